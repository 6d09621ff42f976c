package diagram

// inColumns reports whether the drawing may have several columns.
func (l *layout) inColumns() bool { return l.options.Parts == PartTreadling }

// breakColumns divides the picks into columns of about equal length that fit in a height in
// millimetres, between heavier lines of the grid. ok is false if not even the picks between two
// of them fit.
func (l *layout) breakColumns(mm, high float64) (ok bool) {
	l.stacked = nil
	l.scale(mm)
	every := l.options.every()
	around := float64(l.height-l.lifts.h) * l.mm
	each := int((high-around)/(float64(l.lifts.cell)*l.mm)) / every * every
	for ; each >= every; each -= every {
		count := (l.picks + each - 1) / each
		if count > maxStrips {
			return false
		}
		balanced := (l.picks + count - 1) / count
		l.setColumns((balanced + every - 1) / every * every)
		l.scale(mm)
		if float64(l.height)*l.mm <= high {
			return true
		}
		l.stacked = nil
	}
	return false
}

// setColumns makes columns of so many picks, the last one shorter.
func (l *layout) setColumns(each int) {
	l.stacked = nil
	count := (l.picks + each - 1) / each
	for from := 0; from < l.picks; from += each {
		column := *l
		column.stacked, column.stripCount, column.continues = nil, count, from > 0
		column.firstPick, column.picks = l.firstPick+from, min(each, l.picks-from)
		column.blocks()
		l.stacked = append(l.stacked, strip{layout: &column})
	}
}

// stackColumns places the columns side by side, with their first picks in line. A caption may
// extend over several.
func (l *layout) stackColumns() {
	l.width, l.height = 0, 0
	edge := func(one *layout) int {
		if l.options.Pick1 == Bottom {
			return one.lifts.bottom()
		}
		return one.lifts.y
	}
	lowest := 0
	for _, column := range l.stacked {
		lowest = max(lowest, edge(column.layout))
	}
	x := 0
	for i := range l.stacked {
		column := &l.stacked[i]
		column.x, column.y = x, lowest-edge(column.layout)
		x += column.threadsRight()
		l.width, l.height = max(l.width, column.x+column.width), max(l.height, column.y+column.height)
	}
}

// pageColumns puts whole columns on pages of a size, and reports whether each fits.
func (l *layout) pageColumns(wide, high float64) (s pageLayout, fits bool) {
	s = pageLayout{width: wide, height: high, across: 1, top: pageMargin + headingRoom}
	room, widest := int(wide/l.mm), 0
	for i := 0; i < len(l.stacked); {
		view := rect{l.stacked[i].x, l.stacked[i].y, 0, 0}
		for from := i; i < len(l.stacked); i++ {
			column := l.stacked[i]
			if right := column.x + column.width - view.x; right > room && i > from {
				break
			} else if right > room {
				return s, false
			}
			view.w = max(view.w, column.x+column.width-view.x)
			view.h = max(view.h, column.y+column.height-view.y)
		}
		widest = max(widest, view.w)
		s.views = append(s.views, view)
	}
	s.left = (wide - float64(widest)*l.mm) / 2
	return s, true
}
