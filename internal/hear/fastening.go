package hear

import (
	"fmt"
	"regexp"
	"strings"
)

// heads are the nouns a fastener's name ends with.
var heads = wordSet("nut bolt stud screw plug anchor capscrew")

// headless are first words too common to stand for a fastener alone.
var headless = wordSet("wheel hub head oil drain door cylinder engine seat spark sump brake")

func (v *Vocabulary) addFasteners() {
	for _, f := range v.names.GetFasteners() {
		name := strings.ToLower(f.GetName())
		v.add(name, span{kind: spanFastener, id: f.GetName()})
		if _, after, ok := strings.Cut(name, " "); ok {
			v.add(strings.TrimSuffix(name, " "+after)+after, span{kind: spanFastener, id: f.GetName()}) // «wheelnuts», «seatbelt anchor»
		}
		words := strings.Fields(name)
		n := len(words)
		last := words[n-1]
		if n >= 2 && (last == "bolt" || last == "nut" || last == "anchor") {
			body := words[:n-1]
			if len(body) > 1 || !headless[body[0]] {
				v.add(strings.Join(body, " "), span{kind: spanFastener, id: f.GetName(), weak: true})
			}
			if len(body) > 1 && !headless[body[len(body)-1]] {
				v.add(body[len(body)-1], span{kind: spanFastener, id: f.GetName(), weak: true})
			}
		}
		if n >= 3 {
			v.add(strings.Join(words[1:], " "), span{kind: spanFastener, id: f.GetName()})
		}
		for _, w := range words {
			if w == "brake" { // heard for it when dictated
				v.add(strings.ReplaceAll(name, "brake", "break"), span{kind: spanFastener, id: f.GetName()})
				v.add(strings.ReplaceAll(strings.Join(words[:n-1], " "), "brake", "break"), span{kind: spanFastener, id: f.GetName(), weak: true})
			}
		}
	}
	// Common practice: other words for the same fastener.
	for also, name := range map[string]string{
		"lug nut": "wheel nut", "wheel lug": "wheel nut", "oil drain plug": "sump plug", "drain plug": "sump plug", "sump drain plug": "sump plug", "oil plug": "sump plug",
		"head nut": "cylinder head nut", "plug lead": "",
	} {
		if name != "" {
			v.add(also, span{kind: spanFastener, id: name})
		}
	}
	v.add("plug", span{kind: spanFastener, id: "spark plug", weak: true})
}

// notInName are words that end a fastener's name when read backwards.
var notInName = wordSet("the a an on for of all what whats is are torque figure says say book manual gives give set to and my our new done tighten tightened torqued into add list with those these that this some old m10 put in last them no not two four six eight both every each wants want do i we it its there one me")

// spanFasteners finds fasteners by name, then by their noun with the words before it.
func (r *reading) spanFasteners() {
	for i := r.lo; i < r.hi; i++ {
		for _, s := range r.match(i) {
			if s.kind != spanFastener {
				continue
			}
			if s.weak {
				if before := r.stem(s.from - 1); !partNouns[before] || strings.Contains(s.id, before) {
					r.note(s) // but «gearbox mounts» are not the engine's
				}
				continue
			}
			// «gearbox drain plug» is not the sump's.
			if j := i - 1; (s.id == "sump plug" && r.word(i) == "drain") && j >= r.lo && !notInName[r.word(j)] && r.word(j) != "oil" && !r.toks[j].stop && !r.toks[j].end && r.jobAt(j) == "" {
				s.id, s.from = r.word(j)+" drain plug", j
			}
			if j := i - 1; j >= r.lo && (partNouns[r.word(j)] && !strings.HasPrefix(s.id, r.word(i)) || r.word(j) == "steering" || r.word(j) == "spare") && !r.used[j] && !r.toks[j].stop && !r.toks[j].end && !strings.Contains(s.id, r.stem(j)) {
				name := []string{r.word(j)} // «gearbox mount bolts» are not the engine's
				for k := i; k < s.to; k++ {
					name = append(name, r.stem(k))
				}
				s.id, s.from = strings.Join(name, " "), j
			}
			r.take(s)
			i = s.to - 1
			break
		}
	}
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] || !heads[r.stem(i)] {
			continue
		}
		from := i
		for from > r.lo && i-from < 3 {
			w := r.word(from - 1)
			if notInName[w] || r.used[from-1] || isDigit(w[0]) || r.toks[from-1].stop || r.toks[from-1].end || r.jobAt(from-1) != "" || r.sideAt(from-1) || units19[w] > 0 || wholeWord.MatchString(w) {
				break
			}
			from--
		}
		if from == i {
			continue
		}
		var words []string
		for j := from; j < i; j++ {
			words = append(words, r.word(j))
		}
		if finish := words[0]; (finish == "zinc" || finish == "plated" || finish == "zinced" || finish == "galvanised") && i-from <= 2 {
			continue // «an m6 zinc plated bolt» is any such bolt
		}
		words = append(words, r.stem(i))
		r.take(span{kind: spanFastener, from: from, to: i + 1, id: strings.Join(words, " ")})
	}
}

func (r *reading) sideAt(i int) bool {
	switch r.isSideWord(i) {
	case "", "both":
		return false
	}
	return true
}

func (r *reading) jobAt(i int) string {
	for _, s := range r.match(i) {
		if s.kind == spanJob {
			return s.id
		}
	}
	return ""
}

var (
	metric   = regexp.MustCompile(`^m(\d{1,2}(?:\.\d)?)(?:x(\d(?:\.\d+)?))?$`)
	inchPair = regexp.MustCompile(`^(#?\d{1,2}(?:/\d{1,2})?)-(\d{1,2})$`)
	baThread = regexp.MustCompile(`^(\d{1,2})ba$`)
)

// coarse is the coarse pitch by nominal size: ISO 261; ASME B1.1 (UNC, UNF); BS 84 (BSW, BSF).
var coarse = map[string]map[string]string{
	"m":   {"2": "0.4", "2.5": "0.45", "3": "0.5", "4": "0.7", "5": "0.8", "6": "1.0", "7": "1.0", "8": "1.25", "10": "1.5", "12": "1.75", "14": "2.0", "16": "2.0", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3.0", "27": "3.0", "30": "3.5", "33": "3.5", "36": "4.0"},
	"unc": {"1/4": "20", "5/16": "18", "3/8": "16", "7/16": "14", "1/2": "13", "9/16": "12", "5/8": "11", "3/4": "10", "7/8": "9", "1": "8"},
	"unf": {"1/4": "28", "5/16": "24", "3/8": "24", "7/16": "20", "1/2": "20", "9/16": "18", "5/8": "18", "3/4": "16", "7/8": "14", "1": "12"},
	"bsw": {"3/16": "24", "1/4": "20", "5/16": "18", "3/8": "16", "7/16": "14", "1/2": "12", "9/16": "12", "5/8": "11", "3/4": "10", "7/8": "9", "1": "8"},
	"bsf": {"3/16": "32", "1/4": "26", "5/16": "22", "3/8": "20", "7/16": "18", "1/2": "16", "9/16": "16", "5/8": "14", "3/4": "12", "7/8": "11", "1": "10"},
}

var series = map[string]string{"unc": "unc", "unf": "unf", "bsw": "bsw", "bsf": "bsf", "whit": "bsw", "whitworth": "bsw", "whitworths": "bsw"}

// inchSizes are the spoken inch sizes.
var inchSizes = map[float64]string{0.1875: "3/16", 0.25: "1/4", 0.3125: "5/16", 0.375: "3/8", 0.4375: "7/16", 0.5: "1/2", 0.5625: "9/16", 0.625: "5/8", 0.75: "3/4", 0.875: "7/8", 1: "1"}

// spanThreads finds threads, grades, lubrication and what it goes into.
func (r *reading) spanThreads() {
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		if m := metric.FindStringSubmatch(w); m != nil {
			to := i + 1
			pitch := m[2]
			if pitch == "" && (r.word(to) == "x" || r.word(to) == "by") {
				if v, n, ok := r.numberAt(to + 1); ok && v < 5 {
					pitch, to = trimNumber(v), n
				}
			}
			if pitch == "" && (r.word(to) == "fine" || r.word(to) == "coarse") {
				to++
			}
			if pitch == "" {
				pitch = coarse["m"][m[1]]
			}
			if pitch != "" {
				if !strings.Contains(pitch, ".") {
					pitch += ".0"
				}
				r.take(span{kind: spanThread, from: i, to: to, id: "M" + m[1] + "x" + pitch})
			}
			continue
		}
		// Dictated: «m eight».
		if w == "m" {
			if v, n, ok := r.numberAt(i + 1); ok && coarse["m"][trimNumber(v)] != "" {
				// «m six ten point nine»: the size is one word, the grade follows.
				if u, isUnit := units19[r.word(i+1)]; isUnit && coarse["m"][trimNumber(u)] != "" {
					v, n = u, i+2
				}
				r.take(span{kind: spanThread, from: i, to: n, id: "M" + trimNumber(v) + "x" + coarse["m"][trimNumber(v)]})
				continue
			}
		}
		if m := baThread.FindStringSubmatch(w); m != nil {
			r.take(span{kind: spanThread, from: i, to: i + 1, id: strings.ToUpper(w)})
			continue
		}
		if v, n, ok := r.numberAt(i); ok && r.word(n) == "ba" && v == float64(int(v)) && v <= 16 {
			r.take(span{kind: spanThread, from: i, to: n + 1, id: fmt.Sprintf("%dBA", int(v))})
			continue
		}
		if m := inchPair.FindStringSubmatch(w); m != nil {
			s := span{kind: spanThread, from: i, to: i + 1}
			if name, ok := series[r.word(i+1)]; ok {
				s.id, s.to = m[1]+"-"+m[2]+" "+strings.ToUpper(name), i+2
				r.take(s)
			} else {
				for _, name := range []string{"unf", "unc"} {
					if coarse[name][m[1]] == m[2] {
						s.id = m[1] + "-" + m[2] + " " + strings.ToUpper(name)
					}
				}
				if s.id != "" {
					r.take(s)
				}
			}
			continue
		}
		if size, n, ok := r.inchSizeAt(i); ok {
			if name, isSeries := series[r.word(n)]; isSeries && coarse[name][size] != "" {
				r.take(span{kind: spanThread, from: i, to: n + 1, id: size + "-" + coarse[name][size] + " " + strings.ToUpper(name)})
				i = n
			}
		}
	}
	r.spanGrades()
}

// inchSizeAt reads «3/8», «half inch», «quarter», «seven sixteenths» at token i.
func (r *reading) inchSizeAt(i int) (string, int, bool) {
	w := r.word(i)
	if w == "" {
		return "", i, false
	}
	var v float64
	n := i
	if u, ok := units19[w]; ok {
		div := map[string]float64{"eighths": 8, "eighth": 8, "sixteenths": 16, "sixteenth": 16, "quarters": 4, "quarter": 4}[r.word(i+1)]
		if div > 0 {
			v, n = u/div, i+2
		}
	}
	switch {
	case n > i:
	case w == "quarter":
		v, n = 0.25, i+1
	case w == "half":
		v, n = 0.5, i+1
	default:
		x, m, ok := r.numberAt(i)
		if !ok {
			return "", i, false
		}
		v, n = x, m
	}
	if r.word(n) == "inch" || r.word(n) == "\"" || r.word(n) == "in" {
		n++
	}
	size, ok := inchSizes[v]
	return size, n, ok
}

// isoGrades are the property classes of ISO 898-1.
var isoGrades = map[string]bool{"4.6": true, "4.8": true, "5.6": true, "5.8": true, "6.8": true, "8.8": true, "9.8": true, "10.9": true, "12.9": true}

func (r *reading) spanGrades() {
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		w, n := r.word(i), r.word(i+1)
		switch {
		case len(w) == 5 && w[0] == 'a' && w[2] == '-':
			r.take(span{kind: spanGrade, from: i, to: i + 1, id: strings.ToUpper(w)})
		case w == "grade":
			if v, m, ok := r.numberAt(i + 1); ok {
				id := trimNumber(v)
				if !isoGrades[id] {
					id = "grade " + id
				}
				r.take(span{kind: spanGrade, from: i, to: m, id: id})
			}
		default:
			if v, m, ok := r.numberAt(i); ok && isoGrades[trimNumber(v)] {
				if u, _, isUnit := r.unitAt(m); !isUnit || u == "" {
					r.note(span{kind: spanGrade, from: i, to: m, id: trimNumber(v), weak: true})
				}
			}
		}
		switch w {
		case "dry":
			r.take(span{kind: spanLubricant, from: i, to: i + 1, id: "dry"})
		case "oiled", "oil", "oily", "lubed", "lubricated":
			if w != "oil" || n != "drain" {
				r.take(span{kind: spanLubricant, from: i, to: i + 1, id: "oiled"})
			}
		case "moly", "molyslip":
			r.take(span{kind: spanLubricant, from: i, to: i + 1, id: "moly"})
		case "copper":
			to := i + 1
			if n == "grease" || n == "slip" || n == "ease" {
				to++
			}
			r.take(span{kind: spanLubricant, from: i, to: to, id: "copper_grease"})
		case "coppergrease", "copperslip":
			r.take(span{kind: spanLubricant, from: i, to: i + 1, id: "copper_grease"})
		case "threadlock", "threadlocker", "threadlocked":
			r.take(span{kind: spanLubricant, from: i, to: i + 1, id: "threadlock"})
		case "thread":
			if n == "lock" || n == "locker" {
				r.take(span{kind: spanLubricant, from: i, to: i + 2, id: "threadlock"})
			}
		case "zinc", "galvanised", "zinced":
			to := i + 1
			if n == "plated" {
				to++
			}
			r.take(span{kind: spanLubricant, from: i, to: to, id: "zinc"})
		case "steel":
			r.note(span{kind: spanInto, from: i, to: i + 1, id: "steel"})
		case "aluminium":
			r.note(span{kind: spanInto, from: i, to: i + 1, id: "aluminium"})
		case "cast":
			if n == "iron" {
				r.note(span{kind: spanInto, from: i, to: i + 2, id: "cast_iron"})
			} else if r.word(i-1) == "into" {
				r.note(span{kind: spanInto, from: i, to: i + 1, id: "cast_iron"})
			}
		case "iron":
			if r.word(i-1) != "cast" {
				r.note(span{kind: spanInto, from: i, to: i + 1, id: "cast_iron"})
			}
		}
	}
}
