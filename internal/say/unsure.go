package say

// Unsure says that a message meant for the bot was not understood, and offers
// the nearest sentences that would be. It is given example sentences, best first.
func Unsure(nearest []string) Reply {
	if len(nearest) == 0 {
		return text("I didn't get that, so nothing is recorded. Say «help» for what I do.")
	}
	items := make([]string, len(nearest))
	for i, s := range nearest {
		items[i] = "«" + short(s) + "»"
	}
	lines := append([]string{"I didn't get that, so nothing is recorded. The nearest things I do:"}, items[:min(3, len(items))]...)
	return text(append(lines, "Or say «help».")...)
}

// NotYet says that a kind of message was understood but is not taken yet.
func NotYet(kind string) Reply {
	what := map[string]string{
		"RecordCoat": "coats", "AddSnag": "snags", "RecordOrder": "orders", "Remind": "reminders", "AddTask": "tasks", "ProposeExtra": "extras",
	}[kind]
	if what == "" {
		what = "those"
	}
	return text("I don't keep "+what+" yet, so nothing was recorded.", "A note I can keep: «note: …».")
}
