package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	pb "bayword/proto/bayword/v1"
)

// Photographs lie beside the database in a folder of their own, outlive the
// server, and are nothing to the ledger's check.
func TestAPhotographOutlivesTheServer(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 9, 9)), nil))
	data := append(b.Bytes(), make([]byte, 3<<20-b.Len())...) // the largest that is taken

	conn, stop := start(t, "-data", dir, "-demo")
	put, err := pb.NewPhotoServiceClient(conn).PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: &pb.Origin{Person: "jonah"}, Content: data})
	require.NoError(t, err)
	require.Zero(t, stop())
	require.FileExists(t, filepath.Join(dir, "photos", put.GetSha256()+".jpg"))

	var out bytes.Buffer
	require.Zero(t, command(t.Context(), []string{"verify", "-data", dir}, &out, os.Stderr), out.String())
	conn, stop = start(t, "-data", dir)
	got, err := pb.NewPhotoServiceClient(conn).GetPhoto(t.Context(), &pb.GetPhotoRequest{Sha256: put.GetSha256()})
	require.NoError(t, err)
	assert.Equal(t, data, got.GetContent())
	require.Zero(t, stop())
}
