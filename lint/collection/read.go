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

// Reader reads drafts from files. The zero value reads files of up to
// formats.DefaultLimit bytes, and has no standard input.
type Reader struct {
	Limit int64     // the size of the largest file to read, in bytes; 0 means formats.DefaultLimit
	Stdin io.Reader // the input for "-"
	// Encoding is the encoding of all files, one of formats.Encodings; "" detects it.
	Encoding string
}

// Read reads a draft. It returns nil for a file found in a folder that isn't a draft and
// isn't named like one. Any other file without a draft becomes a document with a
// finding. The error is for a file that can't be opened or read.
func (r Reader) Read(in Input) (*schema.Document, error) {
	limit := cmp.Or(r.Limit, formats.DefaultLimit)
	raw, size, err := r.bytes(in, limit)
	if err != nil {
		return nil, Problem{in.Path, Reason(err)}
	}
	switch {
	case size > limit && in.Found && !calledDraft(in.Path):
		return nil, nil
	case size > limit && raw != nil: // the full size is unknown
		return formats.TooLarge(in.Path, 0, limit), nil
	case size > limit:
		return formats.TooLarge(in.Path, size, limit), nil
	case in.Found && !calledDraft(in.Path) && !formats.Holds(raw):
		return nil, nil
	}
	return formats.ReadAs(in.Path, raw, r.Encoding), nil
}

// bytes reads at most one byte more than the limit. For a larger regular file it returns
// only the size.
func (r Reader) bytes(in Input, limit int64) (raw []byte, size int64, err error) {
	if in.Path == "-" || in.Stdin {
		raw, err = io.ReadAll(io.LimitReader(r.Stdin, limit+1))
		return raw, int64(len(raw)), err
	}
	open := os.Open
	if in.Found {
		// It was a regular file a moment ago. files.Open is faster than os.Open, and
		// never waits if the file has become a pipe.
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
			err = nil // it shrank while it was read
		}
		return raw[:n], int64(n), err
	}
	if info.IsDir() {
		return nil, 0, fmt.Errorf("it is a folder; name a draft in it")
	}
	raw, err = io.ReadAll(io.LimitReader(f, limit+1))
	return raw, int64(len(raw)), err
}

// Sum returns the SHA-256 of a file in hex. It returns "" if the file can't be read, is
// larger than the limit or isn't a regular file.
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

func sum(raw []byte) string {
	digest := sha256.Sum256(raw)
	return hex.EncodeToString(digest[:])
}
