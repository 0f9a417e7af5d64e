package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// help is a line a topic with one example each, or all examples of one topic.
func help(q *pb.HelpRequest, r *pb.HelpResponse, n Names) Reply {
	topics := r.GetTopics()
	if q.GetTopic() != "" && r.GetUnknownTopic() == "" && len(topics) == 1 {
		return topicHelp(topics[0], n)
	}
	head := "Just say it plainly, like so:"
	if r.GetUnknownTopic() != "" {
		head = fmt.Sprintf("I have nothing under «%s». What I do:", short(r.GetUnknownTopic()))
	}
	items := make([]string, len(topics))
	for i, t := range topics {
		items[i] = short(t.GetName()) + ": " + topicLine(t, n)
	}
	tail := ""
	if len(topics) > 0 {
		tail = fmt.Sprintf("More: «help %s». Wrong? «no, 150» or «scrap that».", short(topics[0].GetName()))
	}
	return text(append(append([]string{head}, listed(items, 0, false)...), tail)...)
}

// topicLine is the first example of a topic, or its summary without one.
func topicLine(t *pb.HelpTopic, n Names) string {
	for _, k := range t.GetKinds() {
		if e := n.Examples[k]; len(e) > 0 {
			return "«" + short(e[0]) + "»"
		}
	}
	return short(t.GetSummary())
}

// topicHelp shows up to three examples of each kind in a topic.
func topicHelp(t *pb.HelpTopic, n Names) Reply {
	var items []string
	for _, k := range t.GetKinds() {
		e := n.Examples[k]
		for _, s := range e[:min(3, len(e))] {
			items = append(items, "«"+short(s)+"»")
		}
	}
	head := upper(strings.TrimSuffix(plain(t.GetName())+": "+plain(t.GetSummary()), ": "))
	if head == "" {
		head = "About that:"
	}
	if len(items) == 0 {
		items = []string{"No examples of it yet; say «help» for all I do."}
	}
	return text(append([]string{head}, listed(items, 0, false)...)...)
}
