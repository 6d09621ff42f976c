package sheet

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/dressing"
)

var long = flag.Bool("long", false, "print every draft of the corpus")

func project(key, value string) schema.Setting {
	return schema.Setting{Section: "project", Key: key, Value: value}
}

func TestGolden(t *testing.T) {
	for _, row := range []struct {
		name, draft string
		plan        dressing.Options
		o           Options
		flags       []schema.Setting
	}{
		{name: "towel", draft: "guild/goose-eye-towel.wif"},
		{
			name: "blanket", draft: "guild/tideline-blanket.wif",
			plan: dressing.Options{Start: dressing.FromCentre},
			o:    Options{End1Left: true},
			flags: []schema.Setting{
				project("dressing", "back to front"), project("sett", "60/10cm"), project("items", "6"), project("fringe", "12 cm"),
			},
		},
		{name: "coverlet", draft: "guild/aurora-coverlet.wif", plan: dressing.Options{Group: []int{24}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := fromCorpus(t, row.draft, row.plan, row.flags...)
			got := Text(p.plan, row.o)
			path := filepath.Join("testdata", row.name+".txt")
			if *golden.Update {
				if err := golden.WriteFile(path, got); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("the sheet is unlike %s (-) in this (+); run with -update if that is meant:\n%s", path, diff)
			}
		})
	}
}
