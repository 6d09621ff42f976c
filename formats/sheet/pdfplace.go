package sheet

// small is how high a thing may be that is not to be broken.
func (t *print) small() float64 { return t.high / 3 }

// muchLeft is how much of a page there must be for a long step to begin on it.
const muchLeft = 0.4

// place begins a page for a step that has no room on this one, unless much of
// this one is left and the step is too long to be small.
func (t *print) place(s *step) {
	high, left := t.height(func() { t.step(s) }), t.bottom()-t.y
	if high > left && (high <= t.small() || left < muchLeft*t.high) && t.y > margin {
		t.fresh()
	}
}

// step sets out a step, and keeps each sentence with what it leads.
func (t *print) step(s *step) {
	t.heading(s.title, 15, true)
	for i, p := range s.parts {
		if t.enough() {
			return
		}
		if !t.dry {
			t.keep(s, i)
		}
		t.part(p)
	}
}

// keep begins a page where a part that is small would be broken, or would be cut
// off from what it leads.
func (t *print) keep(s *step, i int) {
	high := t.partHeight(s.parts[i])
	if high > t.small() {
		return
	}
	switch {
	case s.leads(i):
		next := t.partHeight(s.parts[i+1])
		if next > t.small() {
			next = someLines
		}
		high += next
	case s.parts[i].table != nil && i+1 < len(s.parts) && s.parts[i+1].ticks != nil:
		high += someLines / 2 // the boxes belong to it
	}
	t.need(high)
}

// someLines is room for a few lines of a thing that goes on.
const someLines = 30.0

func (t *print) partHeight(p part) float64 { return t.height(func() { t.part(p) }) }

// height is how much room a thing takes, or more than a page.
func (t *print) height(set func()) float64 {
	from, was := t.y, t.dry
	t.y, t.dry = 2*margin, true
	set()
	high := t.y - 2*margin
	t.y, t.dry = from, was
	return high
}

// enough says whether what is measured is known to be longer than a page.
func (t *print) enough() bool { return t.dry && t.y > 2*t.high }
