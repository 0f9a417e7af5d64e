package console_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/surface"
	"bayword/internal/surface/console"
)

// session runs a session of these lines with the options that set sets.
func session(t *testing.T, input string, set func(*console.Options)) (printed string, heard []surface.Message) {
	t.Helper()
	var out bytes.Buffer
	h := &echo{}
	o := console.Options{
		Handler: h, Person: "idris", Channel: "bay-2", In: strings.NewReader(input), Out: &out, Clock: func() time.Time { return tuesday },
	}
	set(&o)
	require.NoError(t, console.Run(t.Context(), o))
	return out.String(), h.heard
}

// file writes a file of n bytes and gives its path.
func file(t *testing.T, name string, n int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, make([]byte, n), 0o600))
	return path
}

func TestPhotographsGoWithTheNextMessage(t *testing.T) {
	t.Parallel()
	keep := func(o *console.Options) {
		o.Keep = func(_ context.Context, _ string, data []byte) (string, error) {
			return fmt.Sprint("kept-", len(data)), nil
		}
	}
	a, b := file(t, "a.jpg", 11), file(t, "b c.png", 12)
	printed, heard := session(t, "/photo "+a+"\n/photo '"+b+"'\nns sill has a hole\nand that was it\n", keep)
	assert.Contains(t, printed, "The photograph goes with your next message.\n")
	assert.Contains(t, printed, "2 photographs go with your next message.\n")
	require.Len(t, heard, 2)
	assert.Equal(t, []surface.Photo{{Name: "a.jpg", SHA256: "kept-11"}, {Name: "b c.png", SHA256: "kept-12"}}, heard[0].Photos)
	assert.Equal(t, []string{"a.jpg", "b c.png"}, heard[0].Files)
	assert.Empty(t, heard[1].Photos)
	assert.Empty(t, heard[1].Files)

	_, heard = session(t, "which\n/photo "+a+"\n1\nsaid\n", keep)
	assert.Empty(t, heard[1].Photos, "a choice takes none along")
	assert.Len(t, heard[2].Photos, 1)
	_, heard = session(t, "/photo "+a+"\nbroken\nsaid\n", keep)
	assert.Len(t, heard[1].Photos, 1, "what did not work can be said again")
}

func TestPhotographThatCannotBeGiven(t *testing.T) {
	t.Parallel()
	refuse := func(context.Context, string, []byte) (string, error) { return "", errors.New("that is no photograph") }
	for input, c := range map[string]struct {
		want string
		keep surface.Keep
	}{
		"/photo":                              {"Which file?", refuse},
		"/photo nowhere.jpg":                  {"no such file", refuse},
		"/photo " + t.TempDir():               {"is no file", refuse},
		"/photo " + file(t, "a.jpg", 3<<20+1): {"3.0 MB, and 3 MB is the most", refuse},
		"/photo " + file(t, "a.jpg", 3<<20):   {"that is no photograph", refuse},
		"/photo " + file(t, "b.jpg", 1):       {"no place for photographs", nil},
	} {
		printed, heard := session(t, input+"\nsaid\n", func(o *console.Options) { o.Keep = c.keep })
		assert.Contains(t, printed, c.want, input)
		require.Len(t, heard, 1)
		assert.Empty(t, heard[0].Photos)
	}
	one := "/photo " + file(t, "a.jpg", 1) + "\n"
	printed, heard := session(t, strings.Repeat(one, surface.MaxPhotos+1)+"said\n", func(o *console.Options) {
		o.Keep = func(context.Context, string, []byte) (string, error) { return "kept", nil }
	})
	assert.Contains(t, printed, "the most for one message")
	assert.Len(t, heard[0].Photos, surface.MaxPhotos)
}

// handing sets what is handed over, and where to.
func handing(dir string, files []surface.File, err error) func(*console.Options) {
	return func(o *console.Options) {
		o.HandoverDir = dir
		o.Files = func(_ context.Context, job string) (string, []surface.File, error) {
			return "handover-" + job + "-20260310-1015", files, err
		}
	}
}

func TestHandoverGoesIntoANewFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	files := []surface.File{{Name: "record.pdf", Data: []byte("a record")}, {Name: "photos/a.jpg", Data: []byte("a photograph")}}
	printed, _ := session(t, "hand over\nhand over\n", handing(dir, files, nil))
	for _, name := range []string{"handover-heron-20260310-1015", "handover-heron-20260310-1015-2"} {
		assert.Contains(t, printed, "The handover folder.\nFolder: "+filepath.Join(dir, name)+"\n")
		for _, f := range files {
			data, err := os.ReadFile(filepath.Join(dir, name, f.Name))
			require.NoError(t, err)
			assert.Equal(t, f.Data, data)
		}
	}
}

func TestHandoverThatFailsLeavesNothing(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		files []surface.File
		err   error
	}{
		"there is no record":  {nil, errors.New("the record is away")},
		"a name leads out":    {[]surface.File{{Name: "ok.txt"}, {Name: "../out.txt"}}, nil},
		"an absolute name":    {[]surface.File{{Name: "/tmp/bayword-out.txt"}}, nil},
		"a file is a folder":  {[]surface.File{{Name: "a/b"}, {Name: "a"}}, nil},
		"a name that is none": {[]surface.File{{Name: ""}}, nil},
	} {
		dir := t.TempDir()
		printed, _ := session(t, "hand over\n", handing(dir, c.files, c.err))
		assert.Contains(t, printed, "The handover folder.\nNothing was handed over: ", name)
		list, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Empty(t, list, name)
	}
	dir := t.TempDir()
	printed, _ := session(t, "hand over\n", func(o *console.Options) {
		o.HandoverDir = dir
		o.Files = func(context.Context, string) (string, []surface.File, error) { return "../x", nil, nil }
	})
	assert.Contains(t, printed, "cannot name a folder")
}
