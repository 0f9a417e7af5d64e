package slackfake

import (
	"encoding/json"
	"fmt"
	"net/url"
	"unicode/utf8"
)

// The platform's limits on what is posted, in characters (its documentation on
// Block Kit and on chat.postMessage; the sum over all blocks was found by trial).
const (
	maxBlocks     = 50
	maxModal      = 100
	maxText       = 4000
	maxSection    = 3000
	maxFields     = 10
	maxField      = 2000
	maxHeader     = 150
	maxElements   = 25
	maxContext    = 10
	maxButtonText = 75
	maxValue      = 2000
	maxID         = 255
	maxTitle      = 24
	maxMetadata   = 3000
	maxAll        = 13000
)

type object struct {
	Type string `json:"type"`
	Text string `json:"text"`
}

type element struct {
	Type     string          `json:"type"`
	ActionID string          `json:"action_id"`
	Value    string          `json:"value"`
	Text     json.RawMessage `json:"text"` // an object in a button, a string in a text
}

type block struct {
	Type     string    `json:"type"`
	BlockID  string    `json:"block_id"`
	Text     *object   `json:"text"`
	Fields   []object  `json:"fields"`
	Elements []element `json:"elements"`
}

// button is a button and the block it is in.
type button struct {
	element
	Text  object
	block string
}

func buttons(blocks json.RawMessage) (out []button) {
	var list []block
	if json.Unmarshal(blocks, &list) != nil {
		return nil
	}
	for _, b := range list {
		for _, e := range b.Elements {
			if e.Type == "button" {
				x := button{element: e, block: b.BlockID}
				_ = json.Unmarshal(e.Text, &x.Text)
				out = append(out, x)
			}
		}
	}
	return out
}

// Check gives the limits that a post breaks, from the form of its call.
func Check(v url.Values) (broken []string) {
	text := v.Get("text")
	if text == "" && v.Get("blocks") == "" {
		broken = append(broken, "no_text")
	}
	if n := length(text); n > maxText {
		broken = append(broken, fmt.Sprintf("text: %d characters", n))
	}
	if v.Get("blocks") == "" {
		return broken
	}
	return append(broken, checkBlocks([]byte(v.Get("blocks")), maxBlocks)...)
}

func checkView(data []byte) (broken []string) {
	var view struct {
		Type            string          `json:"type"`
		Title           *object         `json:"title"`
		PrivateMetadata string          `json:"private_metadata"`
		Blocks          json.RawMessage `json:"blocks"`
	}
	if err := json.Unmarshal(data, &view); err != nil {
		return []string{"view: " + err.Error()}
	}
	if view.Title != nil && length(view.Title.Text) > maxTitle {
		broken = append(broken, fmt.Sprintf("title: %d characters", length(view.Title.Text)))
	}
	if len(view.PrivateMetadata) > maxMetadata {
		broken = append(broken, "private_metadata too long")
	}
	return append(broken, checkBlocks(view.Blocks, maxModal)...)
}

func checkBlocks(data []byte, most int) (broken []string) {
	say := func(format string, args ...any) { broken = append(broken, fmt.Sprintf(format, args...)) }
	var list []block
	if err := json.Unmarshal(data, &list); err != nil {
		return []string{"blocks: " + err.Error()}
	}
	if len(list) > most {
		say("%d blocks", len(list))
	}
	all := 0
	blockIDs := map[string]bool{}
	within := func(what, s string, least, most int) {
		n := length(s)
		all += n
		if n < least || n > most {
			say("%s: %d characters", what, n)
		}
	}
	id := func(what, s string, seen map[string]bool) {
		if length(s) > maxID {
			say("%s: %d characters", what, length(s))
		}
		if s != "" && seen[s] {
			say("%s %q is there twice", what, s)
		}
		seen[s] = true
	}
	for _, b := range list {
		id("block_id", b.BlockID, blockIDs)
		switch b.Type {
		case "section":
			if b.Text == nil && len(b.Fields) == 0 {
				say("section without text and fields")
			}
			if b.Text != nil {
				within("section", b.Text.Text, 1, maxSection)
			}
			if len(b.Fields) > maxFields {
				say("%d fields", len(b.Fields))
			}
			for _, f := range b.Fields {
				within("field", f.Text, 1, maxField)
			}
		case "header":
			if b.Text == nil {
				say("header without text")
			} else {
				within("header", b.Text.Text, 1, maxHeader)
			}
		case "context":
			if n := len(b.Elements); n < 1 || n > maxContext {
				say("%d elements in a context", n)
			}
			for _, e := range b.Elements {
				var s string
				if json.Unmarshal(e.Text, &s) == nil {
					within("context", s, 1, maxSection)
				}
			}
		case "actions":
			if n := len(b.Elements); n < 1 || n > maxElements {
				say("%d elements in an actions block", n)
			}
			seen := map[string]bool{}
			for _, e := range b.Elements {
				id("action_id", e.ActionID, seen)
				var o object
				if err := json.Unmarshal(e.Text, &o); err != nil || o.Type != "plain_text" {
					say("a button's text must be plain_text")
				}
				within("button", o.Text, 1, maxButtonText)
				if length(e.Value) > maxValue {
					say("value: %d characters", length(e.Value))
				}
			}
		case "divider", "image", "input", "rich_text":
		default:
			say("block type %q", b.Type)
		}
	}
	if all > maxAll {
		say("%d characters in all blocks", all)
	}
	return broken
}

func length(s string) int { return utf8.RuneCountInString(s) }
