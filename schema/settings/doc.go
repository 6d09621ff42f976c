// Package settings reads fettle.ini: the loom, its heddles and reeds, the yarn,
// the project and the rules.
//
// # Where settings come from
//
// Later sources override earlier ones, key by key:
//
//  1. The nearest fettle.ini, searched from the draft's folder upward to the root
//     of the file system, and the files it includes. Others further up count only
//     for exclude. The search goes on above a repository, so a weaver can keep her
//     loom in one fettle.ini above all her collections.
//  2. The draft's own [project] and [yarn] settings (JSON drafts only).
//  3. The file beside the draft with its name: towel.ini for towel.wif. fettle
//     skips it if it belongs to another program: it has no section that fettle
//     knows or nearly knows.
//  4. The loom file. Its [loom], [heddles] and reeds replace all earlier ones. The
//     rest of the file is checked but not used.
//  5. Flags.
//
// A configuration file named on the command line replaces the search. All files
// must be plain files of at most 1 MiB: no devices, no pipes and no files that the
// kernel generates. Only a file named on the command line may be a symbolic link.
//
// # Including
//
// The line "include = a.ini, b.ini" before the first section reads those files
// first. Later files override earlier ones, and the including file overrides them
// all. Paths are relative to the file that names them; patterns are relative to
// the folder of the first file. A file beside a draft may come from anywhere, so
// it can include only files from its own folder down, even through links.
// fettle.ini and named files can include any file. Messages never quote an
// included file unless it is a settings file.
//
// # Reading
//
// A line is a section, a key with = and a value, or a comment. A comment is a line
// that begins with ; or #, or follows a value after a space and a ;. Names ignore
// case, and a space, a hyphen and an underscore are equal in them. Quotation marks
// are part of a value.
//
// A rule in [rules] overrides its family there. A rule in [rules PATTERN] overrides
// one in the [rules] of the same file, in any order; otherwise the last one wins.
//
// The reed in use is the one that [project] reed names. Otherwise package dressing
// chooses one.
package settings
