package collection

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"

	"fettle/formats"
	"fettle/schema"
	"fettle/schema/files"
)

// Reader reads drafts from files. The zero value reads files up to
// formats.DefaultLimit, and nothing from standard input.
type Reader struct {
	Limit int64     // the largest file that is read, in bytes; 0 is formats.DefaultLimit
	Stdin io.Reader // what "-" reads
	// Encoding is what all files are in, one of formats.Encodings; "" tells it by
	// the bytes of each.
	Encoding string
}

// Read reads a draft. It gives nil for a file met in a folder that is no draft
// and not called like one. The error is for a file that cannot be opened or
// read; one that holds no draft is a document that says so.
func (r Reader) Read(in Input) (*schema.Document, error) {
	limit := cmp.Or(r.Limit, formats.DefaultLimit)
	raw, size, err := r.bytes(in, limit)
	if err != nil {
		return nil, Problem{in.Path, Reason(err)}
	}
	switch {
	case size > limit && in.Found && !calledDraft(in.Path):
		return nil, nil
	case size > limit && raw != nil: // read up to there, and how much is to come is not known
		return formats.TooLarge(in.Path, 0, limit), nil
	case size > limit:
		return formats.TooLarge(in.Path, size, limit), nil
	case in.Found && !calledDraft(in.Path) && !formats.Holds(raw):
		return nil, nil
	}
	return formats.ReadAs(in.Path, raw, r.Encoding), nil
}

// bytes reads a file, at most one byte more than the limit. For a larger one it
// gives the size without reading it, where that can be had.
func (r Reader) bytes(in Input, limit int64) (raw []byte, size int64, err error) {
	if in.Path == "-" || in.Stdin {
		raw, err = io.ReadAll(io.LimitReader(r.Stdin, limit+1))
		return raw, int64(len(raw)), err
	}
	open := os.Open
	if in.Found {
		// It was a regular file when it was met: that spares it half of what
		// opening one costs, and never waits should it be one no more.
		open = files.Open
	}
	f, err := open(in.Path)
	if err != nil {
		return nil, 0, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, 0, err
	}
	if info.Mode().IsRegular() {
		if size = info.Size(); size > limit {
			return nil, size, nil
		}
		raw = make([]byte, size)
		n, err := io.ReadFull(f, raw)
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			err = nil // it was cut while it was being read
		}
		return raw[:n], int64(n), err
	}
	if info.IsDir() {
		return nil, 0, fmt.Errorf("it is a folder; name a draft in it")
	}
	raw, err = io.ReadAll(io.LimitReader(f, limit+1))
	return raw, int64(len(raw)), err
}

// Sum returns the SHA-256 of a file as hex digits; "" for one that can't be read, is
// over the limit or is not a regular file.
func (r Reader) Sum(in Input) string {
	info, err := os.Stat(in.Path)
	if in.Stdin || err != nil || !info.Mode().IsRegular() {
		return ""
	}
	limit := cmp.Or(r.Limit, formats.DefaultLimit)
	raw, size, err := r.bytes(in, limit)
	if err != nil || size > limit {
		return ""
	}
	return sum(raw)
}

// sum returns the SHA-256 of the bytes of a file as hex digits.
func sum(raw []byte) string {
	digest := sha256.Sum256(raw)
	return hex.EncodeToString(digest[:])
}
