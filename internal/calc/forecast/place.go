package forecast

import "math"

// place puts the tasks of one case on people and days.
func (s *sim) place() {
	for p := range s.freeAt {
		s.freeAt[p], s.last[p] = 0, -1
	}
	s.ready = s.ready[:0]
	for i := range s.nodes {
		if s.left[i] = s.nodes[i].after; s.left[i] == 0 {
			s.ready = append(s.ready, i)
		}
	}
	for len(s.ready) > 0 {
		k, who, at := s.first()
		i := s.ready[k]
		s.ready[k] = s.ready[len(s.ready)-1]
		s.ready = s.ready[:len(s.ready)-1]
		s.work(i, who, at)
	}
}

// first finds which of the tasks that are ready can begin first, by whom and when.
func (s *sim) first() (k, who int, at float64) {
	at = math.Inf(1)
	for j, i := range s.ready {
		p, t := s.soonest(i)
		if t < at || t == at && s.nodes[i].rank < s.nodes[s.ready[k]].rank {
			k, who, at = j, p, t
		}
	}
	return k, who, at
}

// soonest finds who can begin a task first, of equals who ends it first; work of no
// hours needs nobody.
func (s *sim) soonest(i int) (who int, at float64) {
	ready := s.readyAt[i]
	if s.hours[i] == 0 {
		return -1, ready
	}
	who, at = -1, math.Inf(1)
	for _, p := range s.nodes[i].who {
		t := s.back(p, max(ready, s.freeAt[p]))
		if t < at || t == at && s.people[p] > s.people[who] {
			who, at = p, t
		}
	}
	return who, at
}

// back is the time from which a person is there, not before at.
func (s *sim) back(p int, at float64) float64 {
	for _, d := range s.off[p] {
		if float64(d) <= at && at < float64(d+1) {
			at = float64(d + 1)
		}
	}
	return at
}

// through is when a person who is there from at on has worked so many days.
func (s *sim) through(p int, at, days float64) float64 {
	end := at + days
	for _, d := range s.off[p] {
		if float64(d) >= at && float64(d) < end-slack {
			end++
		}
	}
	return end
}

// work does a task, and frees those that waited for it.
func (s *sim) work(i, who int, at float64) {
	end := at
	if who >= 0 {
		end = s.through(who, at, s.hours[i]/s.people[who])
		if s.freeAt[who] > s.readyAt[i] {
			s.cause[i] = s.last[who]
		}
		s.freeAt[who], s.last[who] = end, i
	}
	s.start[i], s.end[i] = at, end
	for _, k := range s.nodes[i].next {
		if s.left[k]--; s.left[k] == 0 {
			s.ready = append(s.ready, k)
		}
		if end > s.readyAt[k] {
			s.readyAt[k], s.cause[k] = end, i
		}
	}
}
