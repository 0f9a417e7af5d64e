package slack

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/slack-go/slack"

	"bayword/internal/say"
)

// What a post is known by: the ids of its blocks carry the ID of the message
// that it answers, so that a press says what it is about, and a post with an
// unknown outcome can be found again.
const (
	answerBlock  = "answer:"
	choicesBlock = "choices:"
	choiceAction = "choice-"
)

// Limits of the platform, in characters, each a little under the true one.
const (
	sectionLimit  = 2900  // 3,000
	messageLimit  = 11500 // about 13,000 in all blocks
	fallbackLimit = 3900  // 4,000
	labelLimit    = 75
	valueLimit    = 2000
	buttonLimit   = 25
	quietLimit    = 300 // longer than this is no short line
)

// escape is for the notification text; the blocks are plain text and need none.
var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// render gives the blocks of a reply to the message id, and the escaped text
// for notifications.
func render(id string, r *say.Reply) (blocks []slack.Block, fallback string) {
	text := strings.TrimSpace(strings.ToValidUTF8(r.Text, ""))
	if text == "" {
		text = "…"
	}
	for n := fallbackLimit; fallback == "" || utf8.RuneCountInString(fallback) > fallbackLimit; n /= 2 {
		fallback = escape.Replace(cut(text, n)) // escaping can make it five times as long
	}
	if r.Quiet && len(r.Choices) == 0 && !strings.Contains(text, "\n") && utf8.RuneCountInString(text) <= quietLimit {
		return []slack.Block{slack.NewContextBlock(answerBlock+id, words(text))}, fallback
	}
	for i, part := range split(cut(text, messageLimit), sectionLimit) {
		block := answerBlock + id
		if i > 0 {
			block = fmt.Sprintf("%s#%d", block, i+1)
		}
		blocks = append(blocks, slack.NewSectionBlock(words(part), nil, nil, slack.SectionBlockOptionBlockID(block)))
	}
	var buttons []slack.BlockElement
	for i, c := range r.Choices[:min(len(r.Choices), buttonLimit)] {
		label := c.Label
		if label == "" {
			label = c.Say
		}
		if label == "" {
			label = fmt.Sprint(i + 1)
		}
		buttons = append(buttons, slack.NewButtonBlockElement(fmt.Sprint(choiceAction, i+1), cut(c.Say, valueLimit), words(cut(label, labelLimit))))
	}
	if len(buttons) > 0 {
		blocks = append(blocks, slack.NewActionBlock(choicesBlock+id, buttons...))
	}
	return blocks, fallback
}

// words is a text that the platform shows as it is, with no markup.
func words(s string) *slack.TextBlockObject {
	return slack.NewTextBlockObject(slack.PlainTextType, s, false, false)
}

// cut shortens a text to at most n characters and shows that it did.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}

// split cuts a text into parts of at most n characters, at line ends if it can.
func split(s string, n int) []string {
	var parts []string
	for r := []rune(s); len(r) > 0; {
		end := min(n, len(r))
		if end < len(r) {
			for i := end; i > n/2; i-- {
				if r[i-1] == '\n' {
					end = i
					break
				}
			}
		}
		if part := strings.Trim(string(r[:end]), "\n"); part != "" {
			parts = append(parts, part)
		}
		r = r[end:]
	}
	return parts
}
