package settings

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"fettle/schema"
	"fettle/schema/files"
)

// FileName is the name of the settings file that a Finder searches for.
const FileName = "fettle.ini"

// Options are a command's choices about settings. The zero value finds fettle.ini
// and sets nothing else.
type Options struct {
	ConfigFile string           // replaces the fettle.ini that would be found
	LoomFile   string           // another loom, its heddles and reeds
	Flags      []schema.Setting // single values; they override all others
	Rules      Rules            // checks the lines of [rules]; nil: nobody checks them
}

// Rules knows the rules and families, by name in lower case, and their options.
type Rules interface {
	Known(name string) error
	Takes(name string, options []string) error
}

// Finder finds the settings of each draft. It reads every file and folder once, on
// demand. Several goroutines may use it at once.
type Finder struct {
	options Options
	working string // the working folder, "" if unknown

	mu       sync.Mutex
	folders  map[string]*folder
	bases    map[string]*base   // by the path of their fettle.ini, "" for none
	chains   map[string][]*base // every fettle.ini in a folder and above it, nearest first
	used     map[pattern]bool   // exclude patterns that excluded something
	fixed    *fixed             // nil until it is read
	misnamed []string
	foreign  map[string]bool // files beside drafts that belong to other programs
	files    map[string]bool // the settings files read, as messages show them

	given, looms atomic.Bool // whether any draft got settings, and whether any of them describes the loom
}

// base is a fettle.ini, with the settings of drafts that add nothing to it.
type base struct {
	layer    layer
	wrong    Errors // mistakes in it and in the fixed settings
	settings *Settings
	err      error       // mistakes in the result, with those in wrong
	exclude  []Exclusion // all valid ones, even if other lines are wrong
}

// fixed holds the settings that apply to every draft.
type fixed struct {
	loom, flags layer
	errs        Errors
}

// NewFinder returns a Finder. Its methods report mistakes in the options.
func NewFinder(options Options) *Finder {
	working, err := os.Getwd()
	if err != nil {
		working = ""
	}
	return &Finder{options: options, working: working, folders: map[string]*folder{}, bases: map[string]*base{},
		chains: map[string][]*base{}, used: map[pattern]bool{}, foreign: map[string]bool{}, files: map[string]bool{}}
}

// For returns the settings of the draft at a path, as ForDraft does, but mistakes
// in the draft's own settings are errors too.
func (f *Finder) For(path string, own []schema.Setting) (*Settings, error) {
	s, wrong, err := f.ForDraft(path, own)
	if err == nil {
		err = wrong.orNil()
	}
	if err != nil {
		return nil, err
	}
	return s, nil
}

// ForDraft returns the settings of the draft at a path, which need not exist; "-"
// is standard input, in the working folder. own are the draft's own settings;
// ForDraft ignores those with mistakes and returns the mistakes in wrong. Drafts
// that add nothing to a fettle.ini share one Settings. An error is an Errors.
func (f *Finder) ForDraft(path string, own []schema.Setting) (s *Settings, wrong Errors, err error) {
	full := f.named(path)
	at := f.know(filepath.Dir(full))
	beside := at.beside(full)
	if path == "-" {
		beside = ""
	}
	var added layer
	var errs Errors
	if beside != "" {
		var foreign bool
		if added, foreign, errs = f.loadBeside(beside); foreign {
			f.noteForeign(beside)
			beside = ""
		}
		f.mu.Lock()
		f.took(added)
		f.mu.Unlock()
	}
	if beside == "" && len(own) == 0 {
		f.note(at.base.settings)
		return at.base.settings, nil, at.base.err
	}
	if errs = append(slices.Clip(at.base.wrong), errs...); len(errs) > 0 {
		return nil, nil, errs
	}
	stated, wrong := fromList(path, own, draftSections)
	s, err = compose(f.fixed, at.base.layer, stated, added)
	if unmet := aboutDraft(err); unmet != nil {
		wrong = append(wrong, unmet...)
		s, err = compose(f.fixed, at.base.layer, stated.without(unmet), added)
	}
	f.note(s)
	return s, wrong, err
}

// note remembers whether settings describe the loom; nil is for settings with mistakes.
func (f *Finder) note(s *Settings) {
	f.given.Store(true)
	if s == nil || s.describesLoom() {
		f.looms.Store(true)
	}
}

// Bare reports whether drafts got settings, but none that describe the loom, its
// heddles and reeds, or the yarn.
func (f *Finder) Bare() bool { return f.given.Load() && !f.looms.Load() }

// Excluded reports whether to skip a path in a walk below the named folder ("" for
// none). Every fettle.ini from the path's folder upward counts, so the start of the
// walk makes no difference. A pattern that covers the named folder itself doesn't
// count. Lines with mistakes exclude nothing; Unsure lists them.
func (f *Finder) Excluded(path, named string) bool {
	if path == "-" {
		return false
	}
	full := f.named(path)
	if named != "" {
		named = f.named(named)
	}
	for _, b := range f.know(filepath.Dir(full)).above {
		if x, is := exclusion(b.exclude, full, named); is {
			f.mu.Lock()
			f.used[pattern{x.Origin, x.Pattern}] = true
			f.mu.Unlock()
			return true
		}
	}
	return false
}

// Unsure returns the mistakes in the settings files read so far that may hide
// patterns from Excluded, in the order of the files' paths.
func (f *Finder) Unsure() Errors {
	f.mu.Lock()
	defer f.mu.Unlock()
	var list Errors
	for _, path := range slices.Sorted(maps.Keys(f.bases)) {
		for _, e := range f.bases[path].wrong {
			if in := sectionOf(e.Section); in == nil || in.Name == "" || in.Name == "files" {
				list = append(list, e)
			}
		}
	}
	return list
}

// ForFolder returns the settings of the drafts in a folder that add nothing of
// their own. An error is an Errors.
func (f *Finder) ForFolder(path string) (*Settings, error) {
	at := f.know(f.named(path))
	return at.base.settings, at.base.err
}

// know returns the settings of a folder and reads them the first time.
func (f *Finder) know(dir string) *folder {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fixed == nil {
		f.fixed = f.readFixed()
	}
	at := f.folders[dir]
	if at == nil {
		above, names := f.chain(dir), settingsFiles(dir)
		at = &folder{base: above[0], above: above, names: names}
		f.folders[dir] = at
		f.misnamed = append(f.misnamed, f.misnamedIn(dir, names)...)
	}
	return at
}

// chain returns the settings files in a folder and above it, nearest first. If
// there are none, it returns the settings without a file.
func (f *Finder) chain(dir string) []*base {
	if f.options.ConfigFile != "" {
		return []*base{f.baseOf(f.named(f.options.ConfigFile))}
	}
	if c := f.chains[dir]; c != nil {
		return c
	}
	var above []*base
	up := filepath.Dir(dir)
	if up != dir {
		above = f.chain(up)
	}
	path := filepath.Join(dir, FileName)
	if _, err := os.Lstat(path); err == nil {
		above = append([]*base{f.baseOf(path)}, above...)
	} else if above == nil {
		above = []*base{f.baseOf("")}
	}
	f.chains[dir] = above
	return above
}

func (f *Finder) baseOf(path string) *base {
	if b := f.bases[path]; b != nil {
		return b
	}
	b := &base{}
	if path != "" {
		b.layer, b.wrong = f.load(path, f.options.ConfigFile != "")
		f.took(b.layer)
	}
	b.exclude = excludedBy(b.layer)
	b.wrong = append(b.wrong, f.fixed.errs...)
	b.settings, b.err = compose(f.fixed, b.layer)
	if b.wrong != nil {
		b.settings, b.err = nil, append(slices.Clip(b.wrong), ofTheWhole(b.wrong, b.err)...)
	}
	f.bases[path] = b
	return b
}

func excludedBy(l layer) []Exclusion {
	b := newBuilder()
	b.apply(l)
	return b.out.Exclude
}

// ofTheWhole returns the mistakes in the merged settings, such as an unknown reed, even
// if single lines are wrong. It returns none if one of those lines may belong to a reed
// or a yarn, because that may be why the reed or grist is missing.
func ofTheWhole(wrong Errors, err error) Errors {
	var list Errors
	if !errors.As(err, &list) || slices.ContainsFunc(wrong, func(e Error) bool {
		in := sectionOf(e.Section)
		return in == nil || in.Name == "" || in.Name == "reed" || in.Name == "yarn" || in.Name == "warp"
	}) {
		return nil
	}
	return list
}

func (f *Finder) readFixed() *fixed {
	var x fixed
	if f.options.LoomFile != "" {
		x.loom, x.errs = f.load(f.named(f.options.LoomFile), true)
		f.took(x.loom)
	}
	var errs Errors
	x.flags, errs = fromList("", f.options.Flags, nil)
	x.errs = append(x.errs, errs...)
	return &x
}

// named returns the absolute path of a file that the weaver named.
func (f *Finder) named(path string) string {
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(f.working, path)
}

// shown returns a path as messages show it: relative to the working folder if it
// is inside.
func (f *Finder) shown(path string) string {
	if rel, inside := files.Relative(f.working, path); inside && f.working != "" {
		return rel
	}
	return path
}

// Foreign returns the files found so far that have the name of a draft beside them
// but belong to another program, so fettle skips them. The paths are sorted, as
// messages show them.
func (f *Finder) Foreign() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Sorted(maps.Keys(f.foreign))
}

func (f *Finder) noteForeign(path string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.foreign[f.shown(path)] = true
}

func (f *Finder) took(l layer) {
	for _, path := range l.files {
		f.files[path] = true
	}
}

// Files returns the settings files read so far. The paths are sorted, as messages
// show them.
func (f *Finder) Files() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Sorted(maps.Keys(f.files))
}

// Misnamed returns the files found so far that were surely meant as fettle.ini: an
// editor added another extension, and no fettle.ini is beside them. fettle doesn't
// read them. The paths are sorted, as messages show them.
func (f *Finder) Misnamed() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	slices.Sort(f.misnamed)
	return slices.Clone(f.misnamed)
}

// compose merges layers, with those of the options last.
func compose(fixed *fixed, layers ...layer) (*Settings, error) {
	b := newBuilder()
	for _, l := range layers {
		b.apply(l)
	}
	b.applyLoom(fixed.loom)
	b.apply(fixed.flags)
	return b.finish()
}
