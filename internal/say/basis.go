package say

import (
	"regexp"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// from names the sources: «From: demo manual p. 12.»
func from(b *pb.Basis, n Names) string {
	sources := make([]string, len(b.GetSources()))
	for i, s := range b.GetSources() {
		sources[i] = n.source(s)
	}
	return labelled("From", together(sources))
}

// recordOf is a source that is one record: «task 2: imported».
var recordOf = regexp.MustCompile(`^([a-z]+) (\d+): (.+)$`)

// together puts records of one noun and one origin that follow one another into one:
// «tasks 2, 3 and 4: imported».
func together(sources []string) []string {
	var out []string
	for i := 0; i < len(sources); {
		first := recordOf.FindStringSubmatch(sources[i])
		if first == nil {
			out = append(out, sources[i])
			i++
			continue
		}
		var found []string
		for ; i < len(sources); i++ {
			m := recordOf.FindStringSubmatch(sources[i])
			if m == nil || m[1] != first[1] || m[3] != first[3] {
				break
			}
			found = append(found, m[2])
		}
		noun := first[1]
		if len(found) > 1 {
			noun += "s"
		}
		out = append(out, noun+" "+and(found)+": "+first[3])
	}
	return out
}

// ledgerNumbers are the numbers of the ledger at the end of a source or of what is
// open: they lead nowhere in a chat. The handover folder has them.
var ledgerNumbers = regexp.MustCompile(`,? \(?(entry|entries) #?\d+(, #?\d+)*\)?$`)

func unnumbered(s string) string { return ledgerNumbers.ReplaceAllString(s, "") }

// byPerson is who did something, as the service writes it: by their id.
var byPerson = regexp.MustCompile(`\bby (\S+) on `)

// source is «find 6: Idris» of «find 6: idris, entry 139».
func (n Names) source(s string) string {
	what := byPerson.ReplaceAllStringFunc(n.days(unnumbered(s)), func(by string) string {
		return "by " + n.person(byPerson.FindStringSubmatch(by)[1]) + " on "
	})
	if head, by, ok := strings.Cut(what, ": "); ok && n.People[by] != "" {
		return head + ": " + n.person(by)
	}
	return what
}

// assumed names what nobody said: «Assumed: …»
func assumed(b *pb.Basis) string { return labelled("Assumed", b.GetAssumptions()) }

func labelled(label string, items []string) string {
	if len(items) == 0 {
		return ""
	}
	parts := make([]string, len(items))
	for i, it := range items {
		parts[i] = strings.TrimSuffix(plain(it), ".")
	}
	return label + ": " + strings.Join(parts, "; ") + "."
}

// safetyCritical is the caution of a fastener whose failure can hurt. The words
// used when the service gives none: common practice, no source.
func safetyCritical(caution string) string {
	const label = "Safety-critical: "
	if caution == "" {
		return label + "check it against the maker's book before you tighten, and again after."
	}
	if strings.HasPrefix(strings.ToLower(caution), "safety-critical") {
		return sentence(caution)
	}
	return label + strings.TrimSuffix(plain(caution), ".") + "."
}

// noSource stands where nobody said which book.
const noSource = "no source named"

// sourced is a source as a sentence without its stop: «From demo manual p. 12».
func sourced(source string) string {
	if strings.HasPrefix(source, noSource) {
		return upper(source)
	}
	return "From " + source
}

// warned is the caution of an answer, whole: it is never the part that gets cut.
func warned(b *pb.Basis) string { return caution(b.GetCaution()) }

// caution is a caution as sentences; empty stays empty.
func caution(s string) string {
	s = cut(clean(s, false), 2*maxSaid)
	if s == "" || strings.HasSuffix(s, "…") || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return upper(s)
	}
	return upper(s) + "."
}

// kept is «Assumed: …» of the assumptions that hold one of these words: those a
// person in the bay can see to. ExplainAnswer gives them all.
func kept(b *pb.Basis, words ...string) string {
	var out []string
	for _, a := range b.GetAssumptions() {
		if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(a, w) }) {
			out = append(out, a)
		}
	}
	return assumed(&pb.Basis{Assumptions: out[:min(3, len(out))]})
}
