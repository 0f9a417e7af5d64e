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
