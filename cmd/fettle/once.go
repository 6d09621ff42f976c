package main

import (
	"errors"
	"slices"

	"fettle/schema/settings"
)

// once is what has been told, so that settings that hold for many drafts are
// complained of once.
type once map[string]bool

// fresh is what was not told yet of an error, nil for nothing.
func (o *once) fresh(err error) error {
	if *o == nil {
		*o = once{}
	}
	list := settings.Errors{}
	if !errors.As(err, &list) {
		if (*o)[err.Error()] {
			return nil
		}
		(*o)[err.Error()] = true
		return err
	}
	left := slices.DeleteFunc(slices.Clone(list), func(e settings.Error) bool {
		told := (*o)[e.Error()]
		(*o)[e.Error()] = true
		return told
	})
	if len(left) == 0 {
		return nil
	}
	return left
}
