package dressing

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fettle/schema"
)

// TestPlanRecomputesNothing replaces figures by ones that don't follow from the setup. If
// the plan computed a figure a second time, it would be the one that follows from the
// setup.
func TestPlanRecomputesNothing(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(*schema.Setup)     // the setup that the other figures follow from
		put    func(to, from *Figures) // replaces the figures
	}{
		{"warp", func(s *schema.Setup) { s.Project.Repeats = 7 }, func(to, from *Figures) {
			from.Warp()
			to.warp = from.warp
		}},
		{"sett", func(s *schema.Setup) { s.Project.Sett = 9 }, func(to, from *Figures) {
			from.Sett()
			to.sett = from.sett
		}},
		{"picks", func(s *schema.Setup) { s.Project.Picks = 5 }, func(to, from *Figures) {
			from.Picks()
			to.picks = from.picks
		}},
		{"yarns", func(s *schema.Setup) { s.Yarns[0].Palette, s.Yarns[1].Palette = nil, []int{1, 2} }, func(to, from *Figures) {
			from.YarnOf(schema.Warp, 1)
			from.YarnOf(schema.Weft, 1)
			to.warpYarns, to.weftYarns = from.warpYarns, from.weftYarns
		}},
		{"heddles", func(s *schema.Setup) { s.Heddles.Each = 20 }, func(to, from *Figures) {
			from.Heddles()
			to.heddles = from.heddles
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			_, changed := towel()
			row.change(changed)
			from, to := Of(d, changed), Of(d, s)
			row.put(to, from)
			plans := [3]*Plan{}
			for i, f := range []*Figures{from, to, Of(d, s)} {
				var err error
				if plans[i], err = f.Plan(Options{}, kindNames); err != nil {
					t.Fatal(err)
				}
			}
			alike := func(a, b *Plan) string {
				return cmp.Diff(a, b, cmpopts.IgnoreFields(Plan{}, "Project", "Figures"))
			}
			if diff := alike(plans[0], plans[1]); diff != "" {
				t.Errorf("something is worked out again:\n%s", diff)
			}
			if alike(plans[0], plans[2]) == "" {
				t.Error("the change of the setup changes nothing, so this test can't fail")
			}
		})
	}
}

// TestFiguresAreComputedInOnePlace reads the source: only a memo uses the function that
// computes a figure, each memo is read in one way, and only Of takes a draft and a setup.
func TestFiguresAreComputedInOnePlace(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	named, computed := map[string]int{}, map[string]string{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				named[n.Sel.Name]++
			case *ast.FuncDecl:
				if takes := paramTypes(n); n.Name.Name != "Of" && takes["schema.Draft"] && takes["schema.Setup"] {
					t.Errorf("%s takes a draft and a setup: make it a method of Figures", n.Name.Name)
				}
			case *ast.CallExpr:
				get, is := n.Fun.(*ast.SelectorExpr)
				if !is || get.Sel.Name != "get" || len(n.Args) != 1 {
					return true
				}
				memo, compute := get.X.(*ast.SelectorExpr).Sel.Name, n.Args[0].(*ast.SelectorExpr).Sel.Name
				if other, is := computed[compute]; is && other != memo {
					t.Errorf("%s is computed for %s and for %s", compute, other, memo)
				}
				computed[compute] = memo
			}
			return true
		})
	}
	for compute, memo := range computed {
		if named[compute] != 1 {
			t.Errorf("%s, which %s remembers, is named %d times", compute, memo, named[compute])
		}
	}
	if len(computed) < 15 {
		t.Errorf("only %d figures are remembered", len(computed))
	}
}

// paramTypes returns the names of a function's parameter types.
func paramTypes(f *ast.FuncDecl) map[string]bool {
	types := map[string]bool{}
	ast.Inspect(f.Type.Params, func(n ast.Node) bool {
		if s, is := n.(*ast.SelectorExpr); is {
			if room, is := s.X.(*ast.Ident); is {
				types[room.Name+"."+s.Sel.Name] = true
			}
		}
		return true
	})
	return types
}

// TestFiguresAreLazy checks that Figures takes one allocation for the struct,
// and none to return a known figure.
func TestFiguresAreLazy(t *testing.T) {
	d, s := towel()
	var f *Figures
	if n := testing.AllocsPerRun(100, func() { f = Of(d, s) }); n > 1 {
		t.Errorf("%v allocations for figures nobody asks for", n)
	}
	f.YarnsShort()
	f.Heddles()
	if n := testing.AllocsPerRun(100, func() {
		f.Warp()
		f.Width()
		f.Heddles()
		f.Lengths()
		f.YarnUses()
		f.YarnOf(schema.Warp, 1)
		f.ShaftsAbove()
		f.TreadlesAbove()
	}); n > 0 {
		t.Errorf("%v allocations for figures that are known", n)
	}
}
