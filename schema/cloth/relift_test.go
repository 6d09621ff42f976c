package cloth

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// anyDraft generates a small draft; single puts each end on one shaft.
func anyDraft(t *rapid.T, single bool) *schema.Draft {
	rows := func(label string, most, highest, numbers int) (r schema.Rows) {
		for range rapid.IntRange(0, most).Draw(t, label) {
			r.Append(rapid.SliceOfN(rapid.Int32Range(0, int32(highest)), 0, numbers).Draw(t, label+" row")...)
		}
		return r
	}
	shafts := 3
	if single {
		shafts = 1
	}
	d := &schema.Draft{Threading: rows("threading", 8, 5, shafts), Tieup: rows("tieup", 5, 5, 4), Treadling: rows("treadling", 8, 5, 2),
		Shed: rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking}).Draw(t, "shed")}
	if rapid.Bool().Draw(t, "plan") {
		d.LiftPlan = rows("lifts", 8, 5, 4)
	}
	d.Weft.Threads = rapid.IntRange(0, 10).Draw(t, "picks")
	return d
}

// TestReliftingKeepsTheCloth converts drafts from treadles to a lift plan and back.
func TestReliftingKeepsTheCloth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft(t, rapid.Bool().Draw(t, "single"))
		cloth := Of(d).Identity()
		same := func(what string, other *schema.Draft) {
			if Of(other).Identity() != cloth {
				t.Fatalf("%s weaves a different cloth: %+v", what, other)
			}
		}
		plan, err := WithLiftPlan(d)
		if err != nil {
			t.Fatal(err)
		}
		same("with a lift plan", plan)
		if plan.Tieup.Len()+plan.Treadling.Len() > 0 {
			t.Fatal("the tie-up or treadling is still there")
		}
		treadled, err := WithTreadles(plan, 0)
		if err != nil {
			t.Fatal(err)
		}
		same("with treadles", treadled)
		if treadled.LiftPlan.Len() > 0 || treadled.Treadles != Of(d).DistinctLifts() {
			t.Fatalf("%d treadles for %d lifts", treadled.Treadles, Of(d).DistinctLifts())
		}
	})
}

func TestSheddingKeepsTheCloth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft(t, true)
		for _, shed := range []schema.Shed{schema.Rising, schema.Sinking} {
			turned, err := WithShed(d, shed)
			if err != nil {
				t.Fatal(err)
			}
			if Of(turned).Identity() != Of(d).Identity() || turned.Shed != shed {
				t.Fatalf("%s weaves a different cloth: %+v", shed, turned)
			}
			back, err := WithShed(turned, schema.Rising)
			if err != nil || Of(back).Identity() != Of(d).Identity() {
				t.Fatalf("changing it back changes the cloth: %v", err)
			}
		}
	})
}

func TestRelifting(t *testing.T) {
	twill := &schema.Draft{Shafts: 4, Threading: schema.Singles(1, 2, 3, 4), Treadles: 6, Treadling: schema.Singles(1, 2, 3, 4),
		Tieup: schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})}
	if same, err := WithTreadles(twill, 4); same != twill || err != nil {
		t.Error("a draft within the limit was changed")
	}
	if _, err := WithTreadles(twill, 3); err == nil || !strings.Contains(err.Error(), "needs 4 treadles, and there are 3; use a lift plan") {
		t.Errorf("got %v", err)
	}
	sinking, err := WithShed(twill, schema.Sinking)
	if err != nil || !sinking.Tieup.Equal(schema.RowsOf([]int32{3, 4}, []int32{1, 4}, []int32{1, 2}, []int32{2, 3})) ||
		!sinking.Treadling.Equal(twill.Treadling) {
		t.Errorf("got %+v, %v", sinking, err)
	}
	twill.Threading = schema.RowsOf([]int32{1, 3}, []int32{2})
	if _, err := WithShed(twill, schema.Sinking); err == nil || !strings.Contains(err.Error(), "ends on several shafts") {
		t.Errorf("got %v", err)
	}
}

// TestTooManyMarks converts a file of 200 kB with millions of marks: 4,000 picks press a
// treadle tied to half of 4,000 shafts.
func TestTooManyMarks(t *testing.T) {
	const many = 4_000
	d := &schema.Draft{Shafts: many, Treadles: 2}
	tied := make([]int32, many/2)
	for i := range many {
		d.Threading.Append(int32(i + 1))
		d.Treadling.Append(int32(i%2 + 1))
		tied[i/2] = int32(i/2 + 1)
	}
	d.Tieup = schema.RowsOf(tied, []int32{many})
	d.Weft.Threads = many
	if _, err := WithLiftPlan(d); err != nil {
		t.Errorf("refused %d marks: %v", many/2*(many/2+1), err)
	}
	d.Tieup = schema.RowsOf(tied, append([]int32{many - 1}, tied...))
	if _, err := WithLiftPlan(d); err == nil || !strings.Contains(err.Error(), "8002000 marks") {
		t.Errorf("the lift plan: %v", err)
	}
	if _, err := WithShed(d, schema.Sinking); err != nil {
		t.Errorf("the tie-up has %d marks: %v", 2*many, err)
	}
	d.Treadling.Append(1, 2)
	d.Weft.Threads = 0
	if _, err := WithShed(d, schema.Sinking); err == nil || !strings.Contains(err.Error(), "marks") {
		t.Errorf("the shed: %v", err)
	}
}
