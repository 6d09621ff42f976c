package clean

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// differences says what a second draft has otherwise than a first, in words that
// go with "it would have": in its threads, and in the rest. There are none where
// a weaver would get the same from both. The declared numbers of shafts and
// treadles may differ, and how threading, tie-up, treadling and lift plan come to
// the cloth; comments may be more.
func differences(a, b *schema.Draft) (threads, rest []string) {
	threads = notEmpty(
		differ(a.Ends() != b.Ends(), "%d ends in place of %d", b.Ends(), a.Ends()),
		differ(a.Picks() != b.Picks(), "%d picks in place of %d", b.Picks(), a.Picks()),
		differ(!cloth.Same(a, b), "another cloth"),
		differ(!sameColors(&a.Warp, &b.Warp, a.Ends()), "other warp colors"),
		differ(!sameColors(&a.Weft, &b.Weft, a.Picks()), "other weft colors"),
		differ(!sameMeasures(&a.Warp, &b.Warp), "other warp spacings or thicknesses"),
		differ(!sameMeasures(&a.Weft, &b.Weft), "other weft spacings or thicknesses"))
	for _, t := range texts(a, b) {
		rest = append(rest, differ(t.a != t.b, "%s for %s %s", wording.Quote(t.b), t.name, wording.Quote(t.a)))
	}
	rest = notEmpty(append(rest,
		differ(!slices.Equal(a.Notes, b.Notes), "other notes"),
		differ(!slices.Equal(a.Palette, b.Palette), "another palette"),
		differ(a.Profile != b.Profile, "another word on whether it is a profile"),
		differ(!slices.Equal(a.Settings, b.Settings), "another project"),
		differ(!slices.EqualFunc(a.Ignores, b.Ignores, sameIgnore), "other ignores"),
		differ(lackComments(a.Carried.Comments, b.Carried.Comments), "fewer comments"),
		differ(lacks(a.Carried.Values, b.Carried.Values, func(v schema.Setting) schema.Setting { return v }), "fewer values kept as they stand"),
		differ(!slices.EqualFunc(a.Carried.Sections, b.Carried.Sections, sameSection), "other sections kept as they stand"))...)
	return threads, rest
}

// differ is a difference in words, "" where there is none.
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

// text is one of the texts of two drafts.
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

// lackComments says whether comments of a list are missing in another. A comment
// at the end of a line that has become one itself is still there.
func lackComments(list, other []schema.Comment) bool {
	alike := 0 // how many comments both lists begin with
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

// remark is the comment that stood at the end of a line which is a comment now.
func remark(comment string) string {
	_, text, _ := strings.Cut(strings.TrimLeft(comment, "; \t"), ";")
	return "; " + strings.TrimSpace(text)
}

// lacks says whether something of a list is missing in another, each as often as
// it is there.
func lacks[T any, K comparable](list, other []T, key func(T) K) bool {
	if len(list) > len(other) {
		return true
	}
	count := make(map[K]int, len(other))
	for _, x := range other {
		count[key(x)]++
	}
	for _, x := range list {
		if count[key(x)]--; count[key(x)] < 0 {
			return true
		}
	}
	return false
}
