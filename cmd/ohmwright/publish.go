package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ohmwright/cmd/internal/web"
)

// publish writes a site into a directory, all of it or nothing: it writes beside and then renames. Of what is there it replaces and
// removes only the files of a former site, which that site's service worker lists, and it follows no symbolic link.
//
// A directory that holds nothing else is replaced as a whole, in one step where the system can. In one that holds more, or that cannot
// be replaced itself, each file is renamed into place; if one cannot be, those before are put back.
func publish(ctx context.Context, directory string, files map[string][]byte) error {
	directory = filepath.Clean(directory)
	info, err := os.Lstat(directory)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.MkdirAll(filepath.Dir(directory), 0o755); err != nil {
			return err
		}
		return replace(ctx, directory, nil, files)
	case err != nil:
		return err
	case info.Mode().Type() == fs.ModeSymlink:
		return fmt.Errorf("%s is a symbolic link, which is not followed; name the directory that it leads to", directory)
	case !info.IsDir():
		return fmt.Errorf("%s is not a directory; want a directory, or a name that is free", directory)
	}
	former, err := formerSite(directory)
	if err != nil {
		return err
	}
	if err := clashes(directory, former, files); err != nil {
		return err
	}
	if alone, err := holdsOnly(directory, former); err != nil {
		return err
	} else if alone && !isHere(info) {
		err := replace(ctx, directory, former, files)
		if err == nil || ctx.Err() != nil {
			return err
		}
	}
	return fill(ctx, directory, former, files)
}

// formerSite returns the names of the files that an earlier build wrote into a directory: its service worker lists them.
func formerSite(directory string) (names []string, err error) {
	worker := filepath.Join(directory, "sw.js")
	if info, err := os.Lstat(worker); err != nil || !info.Mode().IsRegular() {
		return nil, nil // no site of ours
	}
	text, err := os.ReadFile(worker)
	if err != nil {
		return nil, err
	}
	list, found := constantIn(text, "FILES")
	if !found || !bytes.Contains(text, []byte("const VERSION = ")) {
		return nil, nil
	}
	var hashes map[string]any
	if json.Unmarshal(list, &names) != nil {
		if json.Unmarshal(list, &hashes) != nil {
			return nil, nil
		}
		names = slices.Collect(maps.Keys(hashes))
	}
	var about []string
	if list, found := constantIn(text, "ABOUT"); found && json.Unmarshal(list, &about) == nil {
		names = append(names, about...)
	}
	names = append(names, "sw.js")
	for _, name := range []string{headersFile, robotsFile} {
		if !isOwn(filepath.Join(directory, name)) {
			names = append(names, name)
		}
	}
	names = slices.DeleteFunc(names, func(name string) bool {
		if !filepath.IsLocal(name) || name != path.Clean(name) || linked(directory, name) != "" {
			return true
		}
		info, err := os.Lstat(filepath.Join(directory, filepath.FromSlash(name)))
		return err != nil || info.IsDir()
	})
	slices.Sort(names)
	return slices.Compact(names), nil
}

// constantIn returns the value of a constant at the head of a worker, as JSON.
func constantIn(worker []byte, name string) (value []byte, found bool) {
	_, rest, _ := bytes.Cut(worker, []byte("const "+name+" = "))
	value, _, found = bytes.Cut(rest, []byte(";\n"))
	return value, found
}

// headersFile says which headers a host sets. It is no file of the site: hosts read it and do not give it out.
// robotsFile tells search engines where the sitemap is.
const (
	headersFile = "_headers"
	robotsFile  = "robots.txt"
)

// isOwn reports whether something is there by the name of one of these that no build wrote, or that somebody has taken over.
func isOwn(file string) bool {
	info, err := os.Lstat(file)
	if err != nil || !info.Mode().IsRegular() {
		return err == nil
	}
	text, err := os.ReadFile(file)
	return err != nil || !bytes.HasPrefix(text, []byte(web.BuildMark))
}

// linked returns the folder on the way to a file that is no real directory, such as a symbolic link; "" if there is none.
func linked(directory, name string) string {
	for above := path.Dir(name); above != "."; above = path.Dir(above) {
		info, err := os.Lstat(filepath.Join(directory, filepath.FromSlash(above)))
		if err == nil && !info.IsDir() {
			return above
		}
	}
	return ""
}

// clashes returns an error if a file of the site would take the place of something that no earlier build wrote.
func clashes(directory string, former []string, files map[string][]byte) error {
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if folder := linked(directory, name); folder != "" {
			return fmt.Errorf("%s in %s is not a directory, and the site has files in one of that name; move it away", folder, directory)
		}
		info, err := os.Lstat(filepath.Join(directory, filepath.FromSlash(name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return err
		case info.IsDir():
			return fmt.Errorf("%s in %s is a directory, and would be a file of the site; move it away", name, directory)
		case !slices.Contains(former, name):
			return fmt.Errorf("%s in %s is not from an earlier build, and would be replaced; move it away, or name another directory",
				name, directory)
		}
	}
	return nil
}

// holdsOnly reports whether a directory holds nothing but files with some names, and their folders.
func holdsOnly(directory string, names []string) (bool, error) {
	only := true
	err := fs.WalkDir(os.DirFS(directory), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		ours := name == "." || slices.ContainsFunc(names, func(n string) bool {
			return n == name && !d.IsDir() || strings.HasPrefix(n, name+"/") && d.IsDir()
		})
		if !ours {
			only = false
			return fs.SkipAll
		}
		return nil
	})
	return only, err
}

// isHere reports whether a directory is the working directory: whoever works in it would be left in one that is gone.
func isHere(directory fs.FileInfo) bool {
	here, err := os.Stat(".")
	return err == nil && os.SameFile(here, directory)
}

// replace writes the site beside a directory and puts it in its place. The directory need not exist; if it does, it holds only the
// files of a former site.
func replace(ctx context.Context, directory string, former []string, files map[string][]byte) error {
	beside, stage, err := staged(ctx, filepath.Dir(directory), files)
	if err != nil {
		return err
	}
	defer os.Remove(beside)
	old := stage // where the old directory goes, if there is one
	if info, failed := os.Stat(directory); failed == nil {
		err = os.Chmod(stage, info.Mode()&(fs.ModePerm|fs.ModeSetgid|fs.ModeSticky))
		if err == nil && exchange(stage, directory) != nil {
			old = filepath.Join(beside, "old")
			if err = os.Rename(directory, old); err == nil {
				if err = os.Rename(stage, directory); err != nil {
					_ = os.Rename(old, directory)
				}
			}
		}
	} else {
		err = os.Rename(stage, directory)
	}
	if err != nil {
		discard(stage, slices.Collect(maps.Keys(files)))
		return err
	}
	discard(old, former)
	return nil
}

// fill writes the site into a directory of its own inside a directory, and renames its files into place one by one. If that fails, what
// was there is put back.
func fill(ctx context.Context, directory string, former []string, files map[string][]byte) error {
	inside, stage, err := staged(ctx, directory, files)
	if err != nil {
		return err
	}
	old := filepath.Join(inside, "old")
	names := slices.Sorted(maps.Keys(files))
	var undo []func()
	move := func(from, to string) error {
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := os.Rename(from, to); err != nil {
			return err
		}
		undo = append(undo, func() { _ = os.Rename(to, from) })
		return nil
	}
	for _, name := range former {
		if err = move(filepath.Join(directory, name), filepath.Join(old, name)); err != nil {
			break
		}
	}
	for i := 0; i < len(names) && err == nil; i++ {
		err = move(filepath.Join(stage, names[i]), filepath.Join(directory, names[i]))
	}
	if err != nil {
		for _, back := range slices.Backward(undo) {
			back()
		}
		prune(old, former) // what could not be put back stays there
	} else {
		discard(old, former)
	}
	discard(stage, names)
	_ = os.Remove(inside)
	return err
}

// staged writes files into a new directory, DIRECTORY/.ohmwright-NUMBER/site, and returns both. If it fails, nothing is left.
func staged(ctx context.Context, directory string, files map[string][]byte) (outer, stage string, err error) {
	if outer, err = os.MkdirTemp(directory, ".ohmwright-"); err != nil {
		return "", "", err
	}
	stage = filepath.Join(outer, "site")
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err = ctx.Err(); err == nil {
			err = writeThrough(filepath.Join(stage, filepath.FromSlash(name)), files[name])
		}
		if err != nil {
			discard(stage, slices.Collect(maps.Keys(files)))
			_ = os.Remove(outer)
			return "", "", err
		}
	}
	return outer, stage, nil
}

// writeThrough writes a new file, and waits until the disk has it: a rename must not come before.
func writeThrough(file string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return errors.Join(err, f.Sync(), f.Close())
}

// discard removes files by their names, and the folders that are then empty. What else is there stays.
func discard(directory string, names []string) {
	for _, name := range names {
		_ = os.Remove(filepath.Join(directory, filepath.FromSlash(name)))
	}
	prune(directory, names)
}

// prune removes a directory and the folders of some files in it, if they are empty.
func prune(directory string, names []string) {
	folders := []string{directory}
	for _, name := range names {
		for above := path.Dir(name); above != "."; above = path.Dir(above) {
			folders = append(folders, filepath.Join(directory, filepath.FromSlash(above)))
		}
	}
	slices.Sort(folders) // those inside come behind
	for _, folder := range slices.Backward(slices.Compact(folders)) {
		_ = os.Remove(folder)
	}
}
