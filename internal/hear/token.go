package hear

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is one word, number or mark of a message.
type token struct {
	text string // lower case, mended
	from int    // byte offset in the message
	to   int
	end  bool // a full stop, question mark, line or semicolon follows
	stop bool // a comma, colon or dash follows
}

// clean makes a message plain: valid UTF-8, no control characters but line
// breaks, straight quotes and dashes, fraction characters written out.
func clean(s string) string {
	plain := true
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf || (s[i] < ' ' && s[i] != '\n') || s[i] == 0x7f {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		switch r {
		case utf8.RuneError:
		case '’', '‘', 'ʼ', '′':
			b.WriteByte('\'')
		case '“', '”', '″':
			b.WriteByte('"')
		case '–', '—', '−':
			b.WriteByte('-')
		case '½':
			b.WriteString(" 1/2")
		case '¼':
			b.WriteString(" 1/4")
		case '¾':
			b.WriteString(" 3/4")
		case '⅛':
			b.WriteString(" 1/8")
		case '⅜':
			b.WriteString(" 3/8")
		case '⅝':
			b.WriteString(" 5/8")
		case '⅞':
			b.WriteString(" 7/8")
		case '⅓':
			b.WriteString(" 1/3")
		case '⅔':
			b.WriteString(" 2/3")
		case '×':
			b.WriteByte('x')
		case '·', '⋅':
			b.WriteByte('.')
		case '²':
			b.WriteByte('2')
		case '\n':
			b.WriteByte('\n')
		default:
			if unicode.IsControl(r) || r == '\u200b' || r == '\ufeff' {
				b.WriteByte(' ')
				continue
			}
			b.WriteRune(r)
		}
	}
	return b.String()
}

var (
	// wholeWords are chunks that stay one token though they hold digits and marks.
	wholeWord = regexp.MustCompile(`^(m\d{1,2}(\.\d)?(x\d(\.\d+)?)?|\d{1,2}/\d{1,2}-\d{1,2}|#?\d{1,2}-\d{2}|\d{3}/\d{2}z?r\d{2}s?|a[24]-\d{2}|\d{1,2}ba|p\d{2,4}s?|\d{1,3}s|\d+(st|nd|rd|th)|\d{4}-\d{2}-\d{2}|\d{1,2}/\d{1,2}/\d{2,4}|\d{1,2}:\d{2})$`)
	// sized is a number, or several joined by x, each with its unit run on.
	sized  = regexp.MustCompile(`^(\d+(?:[.,]\d+)?(?:/\d+)?)([a-z"'%°][a-z0-9"'%°²/]*)?$`)
	joined = regexp.MustCompile(`^[\d.]+[a-z"]{0,3}x[\d.]+[a-z"]{0,3}$`)
)

// joinedWithS are the words that keep a run-on 's: «what's» is heard as «whats».
var joinedWithS = map[string]string{
	"what": "whats", "that": "thats", "it": "its", "there": "theres", "who": "whos", "where": "wheres",
	"how": "hows", "here": "heres", "when": "whens", "let": "lets", "she": "shes", "he": "hes",
}

// writtenShort maps short and phonetic spellings to the words heard.
var writtenShort = map[string]string{
	"wots": "whats", "wot": "what", "wat": "what", "wats": "whats", "waht": "what", "hw": "how", "r": "are", "u": "you", "teh": "the", "oen": "one",
	"shouldve": "should have", "wouldve": "would have", "couldve": "could have", "mightve": "might have", "ther": "there", "enuf": "enough",
	"enuff": "enough", "hav": "have", "pls": "please", "plz": "please", "whatdo": "what do", "dont": "dont", "didnt": "didnt", "usd": "used",
	"yday": "yesterday", "hrs": "hours", "hr": "hours", "nr": "near", "w/": "with", "inot": "into", "ltr": "litre", "ltrs": "litres", "onthe": "on the",
	"inthe": "in the", "ofthe": "of the", "cuz": "because", "thru": "through", "gona": "gonna", "oclock": "oclock", "whats": "whats", "frm": "from",
	"til": "till", "ally": "aluminium", "alloy": "aluminium", "aluminum": "aluminium", "ali": "aluminium", "alu": "aluminium", "dia": "diameter",
	"recieved": "received", "isnt": "isnt", "steal": "steel", "reer": "rear", "owt": "anything", "nowt": "nothing", "summat": "something",
	"sept": "september", "em": "them", "n": "and", "wi": "with", "gotta": "got to", "dunno": "dont know", "innit": "isnt it", "ere": "here", "al": "all",
	"sposed": "supposed", "spose": "suppose", "suposed": "supposed", "d": "do", "upto": "up to", "mo": "moment", "whatre": "what are",
	"alrite": "alright", "giv": "give", "xtra": "extra", "wen": "when", "wens": "whens", "rekon": "reckon", "dun": "done", "nws": "news",
	"dyou": "do you", "abt": "about", "snaggs": "snags", "yeah": "yes", "yep": "yes", "yea": "yes", "bout": "about", "doin": "doing", "goin": "going",
	"gettin": "getting", "waitin": "waiting", "wotre": "what are", "holdin": "holding", "stil": "still", "startin": "starting", "finishd": "finished",
	"finshd": "finished", "arivd": "arrived", "arrivd": "arrived", "actualy": "actually", "acually": "actually", "tq": "torque", "tourqe": "torque",
	"tork": "torque", "hangar": "hanger", "mxi": "mix", "mx": "mix", "hwo": "how", "metle": "metal", "mettle": "metal", "lft": "left", "gpa": "gap",
	"cotes": "coats", "gto": "got", "hte": "the", "adn": "and", "nad": "and", "hors": "hours", "haow": "how", "wating": "waiting", "fro": "for",
	"waggon": "wagon", "torc": "torque", "torqe": "torque", "tht": "that", "tha": "that", "shud": "should", "cud": "could", "wud": "would",
	"anothr": "another", "tmrw": "tomorrow", "tomoz": "tomorrow", "thred": "thread", "ordrd": "ordered", "orderd": "ordered", "fitd": "fitted",
	"weldin": "welding", "strippin": "stripping", "striping": "stripping",
}

// tokens splits a cleaned message. mend corrects a word's spelling.
func tokens(s string, mend func(string) string) []token {
	out := make([]token, 0, 24)
	i := 0
	for i < len(s) {
		c := s[i]
		switch {
		case c == '\n' || c == ';':
			mark(out, true)
			i++
			continue
		case c == ' ' || c == '\t' || c == '(' || c == ')' || c == '[' || c == ']' || c == '*' || c == '_' || c == '`' || c == '~':
			i++
			continue
		case c == ',' || c == ':':
			mark(out, false)
			i++
			continue
		case c == '-' && (i+1 >= len(s) || s[i+1] == ' '):
			mark(out, false)
			i++
			continue
		}
		from := i
		for i < len(s) && !strings.ContainsRune(" \t\n;(),[]*`~", rune(s[i])) {
			if s[i] == ':' && !(i+1 < len(s) && isDigit(s[i+1]) && i > from && isDigit(s[i-1])) {
				break
			}
			i++
		}
		// A comma between digits belongs to the number only when three digits follow: 1,000.
		for i+3 < len(s) && s[i] == ',' && i > from && isDigit(s[i-1]) && isDigit(s[i+1]) && isDigit(s[i+2]) && isDigit(s[i+3]) && (i+4 >= len(s) || !isDigit(s[i+4])) {
			i++
			for i < len(s) && (isDigit(s[i]) || s[i] == '.') {
				i++
			}
		}
		chunk := strings.ToLower(s[from:i])
		end := false
		for len(chunk) > 0 {
			last := chunk[len(chunk)-1]
			if last == '.' || last == '?' || last == '!' {
				end = true
			} else if last != '\'' || len(chunk) == 1 {
				break
			}
			chunk = chunk[:len(chunk)-1]
		}
		if strings.HasPrefix(chunk, "'") || (strings.HasPrefix(chunk, "\"") && len(chunk) > 1) {
			chunk = chunk[1:]
			from++
		}
		if chunk == "" {
			if end {
				mark(out, true)
			}
			continue
		}
		before := len(out)
		out = split(out, chunk, from, mend)
		if end && len(out) > before {
			out[len(out)-1].end = true
		}
	}
	for i := range out {
		out[i].to = min(out[i].to, len(s)) // «.9» was made 0.9
	}
	return out
}

func mark(out []token, end bool) {
	if len(out) == 0 {
		return
	}
	if end {
		out[len(out)-1].end = true
	} else {
		out[len(out)-1].stop = true
	}
}

// digitInside reports a digit in a unit that is not its square: e308, not m2.
func digitInside(unit string) bool {
	for i := range len(unit) {
		if isDigit(unit[i]) && !(unit[i] == '2' && i == len(unit)-1) {
			return true
		}
	}
	return false
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// split turns one chunk into its tokens.
func split(out []token, chunk string, from int, mend func(string) string) []token {
	add := func(text string, at, n int) {
		if text != "" {
			out = append(out, token{text: text, from: at, to: at + n})
		}
	}
	if wholeWord.MatchString(chunk) {
		add(chunk, from, len(chunk))
		return out
	}
	if chunk[0] == 0xc2 && strings.HasPrefix(chunk, "£") {
		add("£", from, 2)
		if len(chunk) == 2 {
			return out
		}
		return split(out, chunk[2:]+"", from+2, mend)
	}
	if len(chunk) > 1 && chunk[0] == 'x' && strings.Trim(chunk[1:], "0123456789") == "" {
		add("x", from, 1) // «x16»
		add(chunk[1:], from+1, len(chunk)-1)
		return out
	}
	if chunk[0] == '+' || chunk[0] == '@' || chunk[0] == '#' {
		if strings.HasPrefix(chunk, "+/-") {
			add("plusminus", from, 3)
			if len(chunk) > 3 {
				return split(out, chunk[3:], from+3, mend)
			}
			return out
		}
		if len(chunk) > 1 {
			return split(out, chunk[1:], from+1, mend)
		}
		return out
	}
	if isDigit(chunk[0]) || (len(chunk) > 1 && (chunk[0] == '-' || chunk[0] == '.') && isDigit(chunk[1])) {
		negative := chunk[0] == '-'
		body, at := chunk, from
		if negative {
			body, at = body[1:], at+1
		}
		if body[0] == '.' {
			body = "0" + body // an offset one too long at most; only free text uses offsets
		}
		if joined.MatchString(body) {
			parts := strings.SplitN(body, "x", 2)
			out = split(out, parts[0], at, mend)
			add("x", at+len(parts[0]), 1)
			return split(out, parts[1], at+len(parts[0])+1, mend)
		}
		if j := strings.IndexByte(body, '-'); j > 0 && j+1 < len(body) {
			out = split(out, body[:j], at, mend)
			return split(out, body[j+1:], at+j+1, mend)
		}
		if m := sized.FindStringSubmatch(strings.ReplaceAll(body, ",", "")); m != nil {
			if digitInside(m[2]) {
				add(chunk, from, len(chunk)) // 1e308 is no number that people say
				return out
			}
			n := m[1]
			if negative {
				n = "-" + n
			}
			add(n, at, len(m[1]))
			if m[2] != "" {
				add(m[2], at+len(m[1]), len(m[2]))
			}
			return out
		}
	}
	switch chunk {
	case "n/s", "o/s", "l/h", "r/h", "n/s/f", "n/s/r", "o/s/f", "o/s/r":
		add(strings.ReplaceAll(chunk, "/", ""), from, len(chunk))
		return out
	case "ft/lb", "ft/lbs", "lb/ft", "lbs/ft":
		add("ftlb", from, len(chunk))
		return out
	case "n.m", "n-m", "n.m.":
		add("nm", from, len(chunk))
		return out
	case "a&e":
		add("hospital", from, len(chunk))
		return out
	}
	for j := range len(chunk) {
		if c := chunk[j]; (c == '-' || c == '/' || c == '.' || c == '"' || c == '&' || c == '+' || c == '=' || c == '!' || c == '?') && j > 0 {
			out = split(out, chunk[:j], from, mend)
			if (c == '!' || c == '?' || c == '.') && len(out) > 0 {
				out[len(out)-1].end = true
			}
			if j+1 < len(chunk) {
				return split(out, chunk[j+1:], from+j+1, mend)
			}
			return out
		}
	}
	words := apostrophe(chunk)
	for _, w := range words {
		if short, ok := writtenShort[w]; ok {
			for part := range strings.SplitSeq(short, " ") {
				add(part, from, len(chunk))
			}
			continue
		}
		for part := range strings.SplitSeq(mend(w), " ") {
			add(part, from, len(chunk))
		}
	}
	return out
}

// apostrophe undoes run-on words: «i'll» is i, will; «skin's» is skin.
func apostrophe(w string) []string {
	j := strings.IndexByte(w, '\'')
	if j < 0 {
		return []string{w}
	}
	head, tail := w[:j], strings.ReplaceAll(w[j+1:], "'", "")
	switch tail {
	case "s":
		if k, ok := joinedWithS[head]; ok {
			return []string{k}
		}
		return []string{head}
	case "ll":
		return []string{head, "will"}
	case "ve":
		return []string{head, "have"}
	case "re":
		return []string{head, "are"}
	case "m":
		return []string{head + "m"}
	case "d":
		if head == "ok" {
			return []string{"okd"}
		}
		return []string{head, "would"}
	case "you":
		return []string{"do", "you"}
	case "":
		return []string{head}
	}
	return []string{head + tail}
}
