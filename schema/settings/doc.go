// Package settings reads fettle.ini: the loom, its heddles and reeds, the yarn
// on the shelf, the project in hand and how the rules are to be kept.
//
// # Where settings come from
//
// From the least to the most specific, each overriding the one before key by
// key:
//
//  1. fettle.ini, the nearest one from the draft's folder upward to the root
//     of the file system. Only that one is read: those further up are not
//     merged into it. Files it includes lie under it. A folder that holds a
//     repository does not end the search, so that a weaver's own loom is known
//     to the collections kept below her fettle.ini. What is passed over in a
//     walk is the one thing that each of them has a word in.
//  2. What the draft itself states (JSON drafts only): [project] and [yarn].
//  3. The file beside the draft that is named like it: towel.ini for
//     towel.wif. Another program's file of that name is skipped: one that
//     has no section of ours, nor nearly one of ours.
//  4. The loom file. It describes another loom: its [loom], its [heddles] and
//     its reeds each replace the whole of what was said before them; whatever
//     else it holds is checked and left aside.
//  5. Flags.
//
// A named configuration file takes the place of the search. All files must be
// plain files of at most 1 MiB: no device, no pipe, nothing that the kernel makes
// up. Only a file named on the command line may be a symbolic link.
//
// # Including
//
// A line include = a.ini, b.ini before the first section reads those files as
// though they were written there: later ones override earlier ones, the
// includer overrides them all. Their paths are relative to the file that names
// them, but patterns in them to the folder of the file that was found first.
// The file beside a draft, which came with it, includes only files from its own
// folder down, wherever links lead; fettle.ini and named files include any file.
// What an included file holds is never shown unless it is a settings file.
//
// # Reading
//
// Lines are sections, keys with = and a value, and comments; a comment begins
// with ; or # on a line of its own, or with a ; after a space behind a value.
// Names are read whatever their case, and a space, a hyphen and an underscore
// in them are the same. Quotation marks are part of a value.
//
// A family of rules stands in [rules] for all that are not named there themselves.
// A rule set in [rules PATTERN] goes before one in the same file's [rules],
// wherever the two sections stand; else the later word holds.
//
// Of several reeds the one that [project] reed names is in use, else the plain
// [reed], else the first.
package settings
