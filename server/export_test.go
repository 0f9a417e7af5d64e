package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
)

// exported runs the export command and gives its files.
func exported(t *testing.T, data, format string) (folder string, files map[string]string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "out")
	var out bytes.Buffer
	require.Equal(t, exitOK, command(t.Context(), []string{"export", "-data", data, "-out", folder, "-format", format}, &out, &out), out.String())
	assert.Contains(t, out.String(), folder)
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	files = map[string]string{}
	for _, e := range entries {
		content, err := os.ReadFile(filepath.Join(folder, e.Name()))
		require.NoError(t, err)
		files[e.Name()] = string(content)
	}
	return folder, files
}

func TestAShopMovesToAnotherServer(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	conn, stop := start(t, "-data", data, "-demo")
	amount, find := 0.5, uint32(1)
	use, err := pb.NewStockServiceClient(conn).RecordUse(t.Context(), &pb.RecordUseRequest{
		Origin: &pb.Origin{Person: "mabel"}, RequestId: "use-1", Material: "clearcoat", Amount: &amount,
	})
	require.NoError(t, err)
	_, err = pb.NewFindServiceClient(conn).CloseFind(t.Context(), &pb.CloseFindRequest{
		Origin: &pb.Origin{Person: "idris"}, RequestId: "close-1", Job: "heron", Find: &find,
	})
	require.NoError(t, err)
	amount = 0.75
	_, err = pb.NewRecordServiceClient(conn).Amend(t.Context(), &pb.AmendRequest{
		Origin: &pb.Origin{Person: "mabel"}, RequestId: "amend-1", Entry: use.Receipt.Entry, Amount: &amount,
	})
	require.NoError(t, err)
	require.Equal(t, exitOK, stop())

	inJSON, files := exported(t, data, "json")
	inCSV, tables := exported(t, data, "csv")
	assert.Contains(t, files["stock_moves.json"], `{"kind": "use", "material": "clearcoat", "amount": 0.75, "entry": 1, "by": "mabel", "said_at": `)
	assert.Contains(t, files["finds.json"], `"note": "behind an old plate", "state": "open", "now": "repaired"}`)
	assert.Contains(t, tables["channels.csv"], "bay-2,heron,,,\r\n")
	assert.Contains(t, files["README.txt"], "-import FOLDER")

	for _, folder := range []string{inJSON, inCSV} {
		there := t.TempDir()
		conn, stop := start(t, "-data", there, "-import", folder)
		stock, err := pb.NewStockServiceClient(conn).GetStock(t.Context(), &pb.GetStockRequest{Material: "clearcoat"})
		require.NoError(t, err)
		assert.InDelta(t, 5.25, stock.Stock.OnHand, 1e-9)
		require.Equal(t, exitOK, stop())
		_, again := exported(t, there, "json")
		assert.Equal(t, files, again)
		_, again = exported(t, there, "csv")
		assert.Equal(t, tables, again)
	}
}

// An export is there whole or not at all: one that failed leaves nothing, and what
// one leaves that was cut off is in nobody's way.
func TestHalfAnExportBlocksNothing(t *testing.T) {
	t.Parallel()
	data, parent := t.TempDir(), t.TempDir()
	_, stop := start(t, "-data", data, "-demo")
	require.Equal(t, exitOK, stop())
	empty, linked := filepath.Join(parent, "empty"), filepath.Join(parent, "linked")
	require.NoError(t, os.Mkdir(empty, 0o700))
	require.NoError(t, os.Symlink(t.TempDir(), linked))

	for name, out := range map[string]string{
		"a new folder": filepath.Join(parent, "deep", "new") + string(filepath.Separator), "a folder that is there": empty, "a link to one": linked,
	} {
		t.Run(name, func(t *testing.T) {
			list := func() (names []string) {
				there, _ := os.ReadDir(filepath.Dir(filepath.Clean(out)))
				for _, e := range there {
					names = append(names, e.Name())
				}
				return names
			}
			before := list()
			files := []shopfile.File{{Name: "shop.json"}, {Name: filepath.Join("none", "x.json")}}
			require.ErrorIs(t, writeFolder(out, files), fs.ErrNotExist)
			assert.Equal(t, before, list(), "nothing is left of it")

			half, err := halfFolder(out, files[:1]) // and there the power goes
			require.NoError(t, err)
			assert.FileExists(t, filepath.Join(half, "shop.json"))

			var said bytes.Buffer
			require.Equal(t, exitOK, command(t.Context(), []string{"export", "-data", data, "-out", out}, &said, &said), said.String())
			assert.FileExists(t, filepath.Join(out, "README.txt"))
			assert.FileExists(t, filepath.Join(out, "snags.json"))
			assert.Equal(t, exitFailed, command(t.Context(), []string{"export", "-data", data, "-out", out}, &said, &said), "the next one would go over it")
		})
	}
	to, err := os.Lstat(linked)
	require.NoError(t, err)
	assert.Equal(t, fs.ModeSymlink, to.Mode().Type(), "the link is as it was")
}

func TestWhatIsWrongWithAnExportIsSaidInOneLine(t *testing.T) {
	t.Parallel()
	full := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(full, "mine.csv"), nil, 0o600))
	empty := t.TempDir()
	_, stop := start(t, "-data", empty)
	require.Equal(t, exitOK, stop())
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"nowhere to write":    {[]string{"-data", empty}, exitUsage, "-out FOLDER"},
		"no such format":      {[]string{"-data", empty, "-out", "x", "-format", "xml"}, exitUsage, `"xml" is no format; there are json and csv`},
		"no ledger":           {[]string{"-data", filepath.Join(full, "none"), "-out", "x"}, exitFailed, "there is no ledger to export"},
		"a folder in use":     {[]string{"-data", empty, "-out", full}, exitFailed, "is not empty"},
		"a file in the way":   {[]string{"-data", empty, "-out", filepath.Join(full, "mine.csv")}, exitFailed, "mine.csv: not a directory"},
		"a ledger of no shop": {[]string{"-data", empty, "-out", filepath.Join(empty, "out")}, exitFailed, "holds no shop yet"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var out bytes.Buffer
			assert.Equal(t, c.code, command(t.Context(), append([]string{"export"}, c.args...), &out, &out))
			assert.Contains(t, out.String(), c.says)
			assert.Equal(t, 1, bytes.Count(out.Bytes(), []byte("\n")))
		})
	}
}
