package main

import "testing"

// Every setting of the project that is a flag has its own line of help.
func TestProjectFlagsHaveHelp(t *testing.T) {
	for _, k := range projectKeys() {
		if help := projectHelp()[k.Name]; help.usage == "" || help.byDefault == "" {
			t.Errorf("--%s: %+v", flagName(k.Name), help)
		}
	}
}
