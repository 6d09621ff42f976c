package settings

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"fettle/schema"
)

// FileName is the name of the file that is looked for.
const FileName = "fettle.ini"

// Options are what a command was told about settings. The zero value leaves
// all to the search.
type Options struct {
	ConfigFile string           // read in place of the fettle.ini that would be found
	LoomFile   string           // another loom, its heddles and reeds
	Flags      []schema.Setting // single values; they override all others
	Rules      Rules            // checks what [rules] says as it is read; nil: it is not checked
}

// Rules knows which rules and families there are, by their names in small letters,
// and which words may stand behind the severity of one.
type Rules interface {
	Known(name string) error
	Takes(name string, options []string) error
}

// Finder gives each draft its settings. Files and folders are read once, when
// first asked for. It may be used by several goroutines at once.
type Finder struct {
	options Options
	working string // the working folder, "" where it cannot be told

	mu       sync.Mutex
	folders  map[string]*folder
	bases    map[string]*base   // by the path of their fettle.ini, "" for none
	chains   map[string][]*base // of the fettle.ini in a folder and above, the nearest first
	passed   map[pattern]bool   // the patterns that have passed something over
	fixed    *fixed             // nil until it was read
	misnamed []string
	foreign  map[string]bool // files beside drafts that are another program's
	files    map[string]bool // that settings were read from, as messages show them

	given, rooms atomic.Bool // whether settings were given for a draft, and any that state a room
}

// folder is what is known of a folder of drafts.
type folder struct {
	base  *base
	above []*base         // all whose exclude holds here, base among them
	names map[string]bool // the .ini files in it, and those misnamed
}

// base is a fettle.ini, and the settings of drafts that add nothing to it.
type base struct {
	layer    layer
	wrong    Errors // what is wrong with it, or with what holds for every draft
	settings *Settings
	err      error       // what is wrong with the whole
	exclude  []Exclusion // those that could be read, whatever else is wrong
}

// fixed is what holds for every draft.
type fixed struct {
	loom, flags layer
	errs        Errors
}

// NewFinder gives a Finder. What is wrong with the options For tells.
func NewFinder(options Options) *Finder {
	working, err := os.Getwd()
	if err != nil {
		working = ""
	}
	return &Finder{options: options, working: working, folders: map[string]*folder{}, bases: map[string]*base{},
		chains: map[string][]*base{}, passed: map[pattern]bool{}, foreign: map[string]bool{}, files: map[string]bool{}}
}

// For gives the settings of the draft at a path, as ForDraft does; what the draft
// states wrongly is an error too.
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

// ForDraft gives the settings of the draft at a path, which need not exist; "-" is
// standard input and looks from the working folder. own is what the draft itself
// states; what is wrong of it is told and left out. Drafts that add nothing to a
// fettle.ini share one Settings. An error is an Errors.
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
			f.passOver(beside)
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

// note keeps in mind what is stated for a draft; nil is for settings that could not
// be read.
func (f *Finder) note(s *Settings) {
	f.given.Store(true)
	if s == nil || s.Room() {
		f.rooms.Store(true)
	}
}

// Bare says whether settings were given for drafts and none of them states anything
// of the loom, its heddles and reeds or the yarn.
func (f *Finder) Bare() bool { return f.given.Load() && !f.rooms.Load() }

// Excluded says whether a path is to be passed over in a walk below a folder
// that was named, "" for none: each fettle.ini from the path's folder upward is
// asked, so that it makes no difference where the walk began. What covers the
// named folder itself is overruled by its being named. Lines that cannot be read
// exclude nothing; Unsure says which files have such lines.
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
			f.passed[pattern{x.Origin, x.Pattern}] = true
			f.mu.Unlock()
			return true
		}
	}
	return false
}

// Unsure returns what is wrong with the settings files met so far and may keep
// Excluded from knowing all that they exclude, in the order of the files' paths.
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

// ForFolder gives the settings of the drafts in a folder that add nothing of
// their own. An error is an Errors.
func (f *Finder) ForFolder(path string) (*Settings, error) {
	at := f.know(f.named(path))
	return at.base.settings, at.base.err
}

// know gives what is known of a folder, reading what was not read before.
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

// chain is the settings files in a folder and above it, the nearest first; where
// there are none, the settings without one.
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

// excludedBy returns what the lines of a layer exclude.
func excludedBy(l layer) []Exclusion {
	b := newBuilder()
	b.apply(l)
	return b.out.Exclude
}

// ofTheWhole is what else is wrong with settings of which something is wrong
// already. Where that is in a reed or a yarn, or not known to be elsewhere, it may
// be all that is wrong: the reed or the grist that is missed may be the one that
// could not be read.
func ofTheWhole(wrong Errors, err error) Errors {
	var list Errors
	if !errors.As(err, &list) || slices.ContainsFunc(wrong, func(e Error) bool {
		in := sectionOf(e.Section)
		return in == nil || in.Name == "" || in.Name == "reed" || in.Name == "yarn"
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

// named is the absolute path of a file that the weaver named.
func (f *Finder) named(path string) string {
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(f.working, path)
}

// shown is a path as messages show it: from the working folder where it lies
// in there.
func (f *Finder) shown(path string) string {
	rel, err := filepath.Rel(f.working, path)
	if f.working == "" || err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return path
	}
	return rel
}

// Foreign lists the files met so far that are named like a draft beside them and
// are another program's: nothing in them is used. They are given as messages show
// them, in the order of their names.
func (f *Finder) Foreign() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Sorted(maps.Keys(f.foreign))
}

// passOver keeps in mind a file that is another program's.
func (f *Finder) passOver(path string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.foreign[f.shown(path)] = true
}

func (f *Finder) took(l layer) {
	for _, path := range l.files {
		f.files[path] = true
	}
}

// Files returns the paths of all files that settings have been read from so far,
// sorted, as messages show them.
func (f *Finder) Files() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Sorted(maps.Keys(f.files))
}

// Misnamed are the files met so far that were surely meant as a fettle.ini and are
// not read, since an editor put another ending behind the name, and no fettle.ini
// is beside them. They are given as messages show them, in the order of their
// names.
func (f *Finder) Misnamed() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	slices.Sort(f.misnamed)
	return slices.Clone(f.misnamed)
}

func (f *Finder) misnamedIn(dir string, names map[string]bool) (list []string) {
	if names[FileName] || f.options.ConfigFile != "" {
		return nil
	}
	for name := range names {
		if misnamed(name) {
			list = append(list, f.shown(filepath.Join(dir, name)))
		}
	}
	return list
}

// misnamed says whether a name is fettle.ini with another ending behind it.
func misnamed(name string) bool {
	return strings.EqualFold(name, FileName+".txt") || strings.EqualFold(name, FileName+".ini")
}

// settingsFiles are the names in a folder of what holds settings, or was meant to.
// None are seen in a folder that cannot be listed.
func settingsFiles(dir string) map[string]bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	names := map[string]bool{}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".ini") || misnamed(e.Name()) {
			names[e.Name()] = true
		}
	}
	return names
}

// beside is the file with a draft's own settings, "" for none.
func (d *folder) beside(draft string) string {
	path := strings.TrimSuffix(draft, filepath.Ext(draft)) + ".ini"
	if name := filepath.Base(path); path == draft || name == FileName || !d.names[name] {
		return ""
	}
	return path
}

// compose puts layers together, those of the options last.
func compose(fixed *fixed, layers ...layer) (*Settings, error) {
	b := newBuilder()
	for _, l := range layers {
		b.apply(l)
	}
	b.applyLoom(fixed.loom)
	b.apply(fixed.flags)
	return b.finish()
}

// Top returns the folder of the topmost fettle.ini in a folder or above it, ""
// where there is none. The search ends at a folder that holds .git: what lies
// above a repository is not part of it. The folder is an absolute path.
func Top(folder string) string {
	top := ""
	for {
		if exists(filepath.Join(folder, FileName)) {
			top = folder
		}
		up := filepath.Dir(folder)
		if up == folder || exists(filepath.Join(folder, ".git")) {
			return top
		}
		folder = up
	}
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
