//go:build !linux

package main

import "errors"

// exchange cannot swap two directories in one step on this system.
func exchange(_, _ string) error { return errors.ErrUnsupported }
