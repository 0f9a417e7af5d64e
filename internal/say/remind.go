package say

import (
	pb "bayword/proto/bayword/v1"
)

// remind is «Reminder set for 16:00 in bay-3: turn the roof panel.»
func remind(r *pb.RemindResponse, n Names) Reply {
	return receipt(r.GetReceipt(), "Reminder set for "+reminder(r.GetReminder(), n)+".")
}

// reminder is «16:00 in bay-3: turn the roof panel».
func reminder(m *pb.Reminder, n Names) string {
	when := spaced(n.local(m.GetAt()), into(m.GetChannel()))
	if m.GetWho() != "" {
		when = spaced(n.person(m.GetWho())+",", when)
	}
	return comma(when, n.job(m.GetJob())) + ": " + plain(m.GetText())
}

// into is where a message goes: «in bay-3», «in a direct message».
func into(channel string) string {
	switch channel {
	case "":
		return ""
	case "dm":
		return "in a direct message"
	}
	return "in " + short(channel)
}
