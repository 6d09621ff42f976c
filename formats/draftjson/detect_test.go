package draftjson

import "testing"

// TestNamed checks which files in a folder are meant as drafts, even if they are
// invalid.
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
