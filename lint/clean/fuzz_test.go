package clean

import (
	"slices"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
)

// FuzzClean cleans any bytes that read as a draft, with several options. The draft stays
// the same, certain fixes are made or refused with a reason, and cleaning again changes
// nothing.
func FuzzClean(f *testing.F) {
	for seed := range uint64(40) {
		raw, _ := corpus.Dirty(seed)
		f.Add(raw)
	}
	for _, text := range []string{
		plain, "[WEAVING]\nShafts=1\n[WEAVING]\nShaft=2\n[THREADING]\n1=3\n[WEAVING", "[THREADING]\r1=1\r2=2,,;x\r\n[THREDING]\n3=1",
		"[TIEUP]\n1=1\n[TIEUP] ; x\n1=2\n2=2 ; y\n[WARP]\n[TIEUP]\n3=1\n0=1\n[TREADLING]\n1=3\n9=1\n[LIFTPLAN]\n1=2\n",
		"x\n[COLOR TABLE]\n1=999,0,0\n9=1,2,3,\n[COLOR PALETTE]\nEntries=1\n[WEFT]\nThreads=2000000000\nSpacing=0,5;\n",
		"\xef\xbb\xbf\xef\xbb\xbf[WIF]\n[TEXT]\nTitle=caf\xc3\xa9\n", "[TEXT]\rTitle=caf\x8e\r", "\xff\xfe[\x00W\x00I\x00F\x00]\x00\n\x00\x41",
		"[PRIVATE a]\nx\n[CONTENTS]\n; so\n[PRIVATE a]\ny\n[WIF]\nVersion=3\n[CONTENTS]\nTIEUP=maybe,\nPRIVATE A=false\n", "[WIF]\nVersion=1.1\n[NOTES]\n1=\xe2\x82",
		`{"fettle": 1, "threading": [1, 2, 3], "shafts": 2, "tieup": [[1], [2], [3]], "treadling": [1, 3], "shed": null}`,
	} {
		f.Add([]byte(text))
	}
	var cleaners []*Cleaner
	for _, w := range variants()[:6] {
		cleaners = append(cleaners, w.cleaner(f))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		before := formats.Read("draft", raw)
		if before.Draft == nil {
			return
		}
		for _, c := range cleaners {
			checkCleaned(t, c, before)
		}
	})
}

func checkCleaned(t *testing.T, c *Cleaner, before *schema.Document) {
	r, err := c.Clean(before)
	if err != nil {
		t.Fatal(err)
	}
	after := formats.Read("draft", r.After)
	if after.Draft == nil {
		t.Fatalf("not a draft after cleaning:\n%q", r.After)
	}
	for _, x := range r.Refused {
		if !c.Risky && x.Rule != Canonical && strings.HasPrefix(x.Reason, "the draft would have") {
			t.Fatalf("line %d: %s\n%q", x.Line, x, r.After)
		}
	}
	threads, rest := differences(before.Draft, after.Draft)
	meant := slices.ContainsFunc(r.Risks, func(s string) bool { return strings.HasPrefix(s, "the draft now has") })
	if len(threads)+len(rest) > 0 && !(c.Risky && meant) {
		t.Fatalf("it has %v %v:\n%q", threads, rest, r.After)
	}
	if left := lint.FixParts(after.Findings, false); len(left) > 0 && len(r.Refused) == 0 {
		t.Fatalf("%s is left:\n%q", left[0].Finding.Message, r.After)
	}
	again, err := c.Clean(after)
	if err != nil || again.Changed() {
		t.Fatalf("cleaning again (%v) changes it to %q from\n%q", err, again.After, r.After)
	}
	if diff, err := r.Diff(); err == nil && r.Changed() != (len(diff) > 0) {
		t.Fatalf("changed is %v, and the diff is\n%s", r.Changed(), diff)
	} else if err == nil && patched(t, string(before.Source.Raw), string(diff)) != string(r.After) {
		t.Fatalf("the diff doesn't turn\n%q into\n%q:\n%s", before.Source.Raw, r.After, diff)
	}
}
