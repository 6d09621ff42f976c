package draftjson

import "testing"

// TestNamed: what lies in a folder is taken for a draft where it was meant as one,
// however badly it is written.
func TestNamed(t *testing.T) {
	for text, want := range map[string]bool{
		`{"fettle": 1}`:                            true,
		`{"threading": [1]}`:                       true,
		`{"threding": [1]}`:                        true,
		`{'fettle': 1, 'threading': [1, 2]}`:       true,
		`{fettle: 1, threading: [1, 2]}`:           true,
		`{"fettle": 1, "threading": [1, 2`:         true,
		`{"fettle": 1, "files": [], "summary": 1}`: false,
		`{}`:                      false,
		`{"name": "a", "version`:  false,
		`{"threading": "cotton"}`: false,
		`[1]`:                     false,
	} {
		if got := Named([]byte(text)); got != want {
			t.Errorf("%s: %v", text, got)
		}
	}
}
