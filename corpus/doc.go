// Package corpus holds drafts to try fettle on: sound ones of an invented
// island guild, looms and yarn to check them against, deliberately faulty ones
// with the findings they must give, and a generator for as many more as a
// benchmark wants. Only tests import it.
package corpus
