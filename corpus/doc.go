// Package corpus holds drafts for tests: sound drafts of an invented guild with its looms
// and yarn, faulty ones with the findings that fettle must report, and generators for any
// number of others. Only tests import it.
package corpus
