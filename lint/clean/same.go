package clean

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// differences lists how draft b differs from a, in its threads and otherwise, in words
// that complete "the draft would have". It ignores everything that doesn't matter to a
// weaver: the declared numbers of shafts and treadles, how shafts and treadles weave the
// cloth, and additional comments.
func differences(a, b *schema.Draft) (threads, rest []string) {
	threads = notEmpty(
		differ(a.Ends() != b.Ends(), "%d ends instead of %d", b.Ends(), a.Ends()),
		differ(a.Picks() != b.Picks(), "%d picks instead of %d", b.Picks(), a.Picks()),
		differ(!cloth.Same(a, b), "a different cloth"),
		differ(!sameColors(&a.Warp, &b.Warp, a.Ends()), "other warp colors"),
		differ(!sameColors(&a.Weft, &b.Weft, a.Picks()), "other weft colors"),
		differ(!sameMeasures(&a.Warp, &b.Warp), "other warp spacings or thicknesses"),
		differ(!sameMeasures(&a.Weft, &b.Weft), "other weft spacings or thicknesses"))
	for _, t := range texts(a, b) {
		rest = append(rest, differ(t.a != t.b, "%s as %s instead of %s", wording.Quote(t.b), t.name, wording.Quote(t.a)))
	}
	rest = notEmpty(append(rest,
		differ(!slices.Equal(a.Notes, b.Notes), "other notes"),
		differ(!slices.Equal(a.Palette, b.Palette), "a different palette"),
		differ(a.Profile != b.Profile, "a different answer to whether it is a profile"),
		differ(!slices.Equal(a.Settings, b.Settings), "a different project"),
		differ(!slices.EqualFunc(a.Ignores, b.Ignores, sameIgnore), "other ignores"),
		differ(lackComments(a.Carried.Comments, b.Carried.Comments), "fewer comments"),
		differ(lackValues(a.Carried.Values, b.Carried.Values), "fewer values that fettle keeps unread"),
		differ(!slices.EqualFunc(a.Carried.Sections, b.Carried.Sections, sameSection), "other sections that fettle keeps unread"))...)
	return threads, rest
}

// differ returns a difference in words, "" for none.
func differ(yes bool, format string, args ...any) string {
	if !yes {
		return ""
	}
	return fmt.Sprintf(format, args...)
}

func notEmpty(list ...string) []string {
	return slices.DeleteFunc(list, func(s string) bool { return s == "" })
}

func sameIgnore(a, b schema.Ignore) bool { return a.Rule == b.Rule && a.Reason == b.Reason }

func sameSection(a, b schema.TextSection) bool {
	return a.Name == b.Name && slices.Equal(a.Lines, b.Lines)
}

// text is a named text of two drafts.
type text struct{ name, a, b string }

func texts(a, b *schema.Draft) []text {
	x, y := &a.Texts, &b.Texts
	return []text{{"the title", x.Title, y.Title}, {"the author", x.Author, y.Author}, {"the address", x.Address, y.Address},
		{"the e-mail address", x.EMail, y.EMail}, {"the telephone number", x.Telephone, y.Telephone}, {"the fax number", x.Fax, y.Fax}}
}

func sameColors(a, b *schema.System, threads int) bool {
	if a.Color == b.Color && slices.Equal(a.Colors, b.Colors) {
		return true
	}
	for n := 1; n <= threads; n++ {
		if a.ColorOf(n) != b.ColorOf(n) {
			return false
		}
	}
	return true
}

func sameMeasures(a, b *schema.System) bool {
	return a.Unit == b.Unit && a.Spacing == b.Spacing && slices.Equal(a.Spacings, b.Spacings) &&
		a.Thickness == b.Thickness && slices.Equal(a.Thicknesses, b.Thicknesses)
}

// lackComments reports whether any comment of a list is missing in another list. If a
// line became a comment, the comment at its end isn't missing.
func lackComments(list, other []schema.Comment) bool {
	alike := 0 // number of comments that both lists begin with
	for alike < min(len(list), len(other)) && list[alike].Text == other[alike].Text {
		alike++
	}
	list, other = list[alike:], other[alike:]
	count := map[string]int{}
	for _, c := range list {
		count[c.Text]++
	}
	missing := len(list)
	for _, c := range other {
		text := c.Text
		if count[text] == 0 {
			text = remark(text)
		}
		if count[text] > 0 {
			count[text]--
			missing--
		}
	}
	return missing > 0
}

// remark returns the comment at the end of a line that became a comment.
func remark(comment string) string {
	_, text, _ := strings.Cut(strings.TrimLeft(comment, "; \t"), ";")
	return "; " + strings.TrimSpace(text)
}

// lackValues reports whether any value of a list is missing in another list.
func lackValues(list, other []schema.Setting) bool {
	count := make(map[schema.Setting]int, len(other))
	for _, v := range other {
		count[v]++
	}
	for _, v := range list {
		if count[v]--; count[v] < 0 {
			return true
		}
	}
	return false
}
