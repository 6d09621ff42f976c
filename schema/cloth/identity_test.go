package cloth

import (
	"testing"

	"fettle/schema"
)

func TestSame(t *testing.T) {
	twill := func() *schema.Draft { return straight(4, 8, 8, []int{0, 1}) }
	plan, err := WithLiftPlan(twill())
	if err != nil {
		t.Fatal(err)
	}
	other := twill()
	other.Threading = schema.Singles(4, 3, 2, 1, 4, 3, 2, 1)
	short := twill()
	short.Threading = schema.Singles(1, 2, 3, 4)
	sinking := twill()
	sinking.Shed = schema.Sinking
	for _, c := range []struct {
		name string
		with *schema.Draft
		want bool
	}{
		{"itself", twill(), true}, {"its lift plan", plan, true}, {"another threading", other, false},
		{"shorter", short, false}, {"the other shed", sinking, false},
	} {
		if got := Same(twill(), c.with); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if got := Of(twill()).Identity() == Of(c.with).Identity(); got != c.want {
			t.Errorf("%s: same identity: %v", c.name, got)
		}
	}
}
