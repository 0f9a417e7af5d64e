package say

// Partly says that a message held more than was understood of it.
func Partly() Reply {
	return text("I understood only a part of that, so nothing is recorded. Say it again in short messages, one thing each, figures as digits.")
}

// Unsure says that a message meant for the bot was not understood, and offers
// sentences that would be. It is given example sentences, best first; they may be
// near to what was said or not, so it does not call them near.
func Unsure(nearest []string) Reply {
	if len(nearest) == 0 {
		return text("I didn't get that, so nothing is recorded. Say «help» for what I do.")
	}
	items := make([]string, len(nearest))
	for i, s := range nearest {
		items[i] = "«" + short(s) + "»"
	}
	lines := append([]string{"I didn't get that, so nothing is recorded. I do things like:"}, items[:min(3, len(items))]...)
	return text(append(lines, "Or say «help».")...)
}
