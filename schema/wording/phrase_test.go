package wording

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCounted(t *testing.T) {
	for n, want := range map[int]string{0: "0 ends", 1: "1 end", 2: "2 ends"} {
		if got := Counted(n, "end"); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestListed(t *testing.T) {
	for _, row := range []struct {
		things  []string
		and, or string
	}{
		{nil, "", ""},
		{[]string{"wif"}, "wif", "wif"},
		{[]string{"wif", "json"}, "wif and json", "wif or json"},
		{[]string{"wif", "json", "svg"}, "wif, json and svg", "wif, json or svg"},
	} {
		if gotAnd, gotOr := Listed(row.things), Either(row.things); gotAnd != row.and || gotOr != row.or {
			t.Errorf("%q and %q, want %q and %q", gotAnd, gotOr, row.and, row.or)
		}
	}
}

func TestJoinNumbers(t *testing.T) {
	for want, list := range map[string][]int32{"-": nil, "4": {4}, "1+30+2": {1, 30, 2}} {
		if got := JoinNumbers(list, "+", "-"); got != want {
			t.Errorf("%d: %q, want %q", list, got, want)
		}
	}
}

func TestNumbered(t *testing.T) {
	many := make([]int, 50)
	for i := range many {
		many[i] = 2*i + 1
	}
	for _, row := range []struct {
		list []int
		want string
	}{
		{[]int{4}, "end 4"},
		{[]int{4, 9}, "ends 4 and 9"},
		{[]int{4, 5}, "ends 4 and 5"},
		{[]int{3, 5, 6, 7, 8}, "ends 3 and 5–8"},
		{[]int{1, 2, 3}, "ends 1–3"},
		{[]int{1, 2, 4, 5, 6, 9}, "ends 1, 2, 4–6 and 9"},
		{many, "ends 1, 3, 5, 7, 9, 11 and 44 more"},
		{append([]int{1, 2, 3}, many[2:]...), "ends 1–3, 5, 7, 9, 11, 13 and 43 more"},
	} {
		if got := Numbered("end", row.list); got != row.want {
			t.Errorf("%v: %q, want %q", row.list, got, row.want)
		}
	}
}

// TestNumberedCounts reads a list back: it must have as many numbers as before.
func TestNumberedCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfNDistinct(rapid.IntRange(1, 40), 2, 30, rapid.ID[int]).Draw(t, "list")
		slices.Sort(list)
		text := strings.NewReplacer("ends ", "", ",", "", " and ", " ").Replace(Numbered("end", list))
		count := 0
		words := strings.Fields(text)
		for i, w := range words {
			var from, to int
			switch n, _ := fmt.Sscanf(w, "%d–%d", &from, &to); {
			case w == "more":
			case i+1 < len(words) && words[i+1] == "more":
				count += from
			case n == 2:
				count += to - from + 1
			default:
				count++
			}
		}
		if count != len(list) {
			t.Fatalf("%q lists %d of %d", text, count, len(list))
		}
	})
}
