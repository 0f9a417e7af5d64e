package say

import (
	pb "bayword/proto/bayword/v1"
)

// listReminders is a line a reminder, the next one first.
func listReminders(q *pb.ListRemindersRequest, r *pb.ListRemindersResponse, n Names) Reply {
	whose := n.on(q.GetJob())
	if q.GetPerson() != "" {
		whose += " for " + n.person(q.GetPerson())
	}
	if len(r.GetReminders()) == 0 {
		return text("No reminders" + whose + ".")
	}
	items := make([]string, len(r.GetReminders()))
	for i, m := range r.GetReminders() {
		items[i] = reminder(m, n)
		if q.GetPerson() == "" && m.GetPerson() != "" {
			items[i] += " (" + n.person(m.GetPerson()) + ")"
		}
	}
	head := plural(len(items), "reminder", "reminders") + whose + ":"
	return text(append([]string{head}, listed(items, 0, false)...)...)
}
