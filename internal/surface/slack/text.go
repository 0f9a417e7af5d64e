package slack

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// link matches what the platform puts between angle brackets: <@U1>, <#C1|name>,
// <!here>, <https://…|label>. What a person typed is escaped and never matches.
var link = regexp.MustCompile(`<([@#!]?)([^<>|]*)(?:\|([^<>]*))?>`)

// folds are the characters that phones and word processors put for plain ones.
var folds = strings.NewReplacer(
	"‘", "'", "’", "'", "‚", "'", "‛", "'", "′", "'", "´", "'", "ʼ", "'",
	"“", `"`, "”", `"`, "„", `"`, "‟", `"`, "″", `"`,
	"‐", "-", "‑", "-", "‒", "-", "–", "-", "—", "-", "―", "-", "−", "-",
	"\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u202f", " ",
	"\u200b", "", "\u2060", "", "\ufeff", "", "\u200e", "", "\u200f", "",
	"\r\n", "\n", "\r", "\n", "⁄", "/",
)

// fractions are the characters for a fraction; after a digit one is a mixed
// number and gets a space.
var fractions = map[rune]string{
	'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5",
	'⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅑': "1/9", '⅒': "1/10",
}

// spaces are left behind where a mention was taken out.
var spaces = regexp.MustCompile(`[ \t]{2,}`)

// plain turns the platform's text into what the person said, and reports
// whether it mentions bot. person and channel name what is mentioned beside.
// Links are resolved before the escapes are undone: an escaped bracket is a
// bracket that somebody typed.
func plain(text, bot string, person func(id, label string) string, channel func(id, label string) string) (said string, mention bool) {
	if !utf8.ValidString(text) {
		text = strings.ToValidUTF8(text, "")
	}
	text = link.ReplaceAllStringFunc(text, func(s string) string {
		m := link.FindStringSubmatch(s)
		kind, target, label := m[1], m[2], m[3]
		switch {
		case kind == "@" && target == bot:
			mention = true
			return " "
		case kind == "@":
			return person(target, label)
		case kind == "#":
			return channel(target, label)
		case kind == "!" && label == "":
			return "@" + strings.SplitN(target, "^", 2)[0]
		case label != "":
			return label
		}
		return target
	})
	text = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(text)
	text = folds.Replace(text)
	text = unfraction(text)
	if mention {
		text = spaces.ReplaceAllString(text, " ")
		text = strings.TrimLeft(text, " \t\n,:")
	}
	return strings.TrimSpace(text), mention
}

func unfraction(text string) string {
	if !strings.ContainsAny(text, "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒") {
		return text
	}
	var b strings.Builder
	digit := false
	for _, r := range text {
		if f, ok := fractions[r]; ok {
			if digit {
				b.WriteByte(' ')
			}
			b.WriteString(f)
		} else {
			b.WriteRune(r)
		}
		digit = r >= '0' && r <= '9'
	}
	return b.String()
}
