package main

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"path"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	"bayword/internal/photo"
	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

// jpegOf is a photograph of n bytes.
func jpegOf(t *testing.T, n int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 9, 9)), nil))
	return append(b.Bytes(), make([]byte, n-b.Len())...)
}

func TestPhotographsGoToTheServerAndBack(t *testing.T) {
	t.Parallel()
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", demo.ShopYAML, func() time.Time { return opening })
	require.NoError(t, err)
	t.Cleanup(stop)
	p := newPhotos(conn)
	require.Equal(t, photo.MaxBytes, surface.MaxPhoto, "what a surface takes, the server keeps")
	largest := jpegOf(t, surface.MaxPhoto)
	sum, err := p.keep(t.Context(), "jonah", largest)
	require.NoError(t, err)
	got, err := p.Photo(t.Context(), sum)
	require.NoError(t, err)
	assert.Equal(t, largest, got)
	_, err = p.keep(t.Context(), "jonah", append(largest, 0))
	require.ErrorContains(t, err, "larger than 3 MB")
	_, err = p.keep(t.Context(), "jonah", []byte("words"))
	require.ErrorContains(t, err, "no JPEG or PNG")
	_, err = p.keep(t.Context(), "U0OTHER", largest)
	require.EqualError(t, err, `the shop does not know "U0OTHER"`)
	require.ErrorAs(t, err, new(surface.NotTaken), "trying again does not help")
	_, err = p.Photo(t.Context(), "x")
	require.Error(t, err)
}

func TestPhotographsStandBesideTheRecords(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data := jpegOf(t, 900)
	sum := ""
	for round := range 2 { // over a restart
		conn, stop, err := embedded(t.Context(), options{data: dir, demo: true})
		require.NoError(t, err)
		p := newPhotos(conn)
		if round == 0 {
			sum, err = p.keep(t.Context(), "jonah", data)
			require.NoError(t, err)
		}
		got, err := p.Photo(t.Context(), sum)
		require.NoError(t, err)
		assert.Equal(t, data, got)
		stop()
	}
	assert.FileExists(t, path.Join(dir, "photos", sum+".jpg"))
}

// recorder is a connection to a server that has one record and no photographs.
type recorder struct {
	grpc.ClientConnInterface
	record *pb.BuildRecordResponse
}

func (r recorder) Invoke(_ context.Context, method string, _, reply any, _ ...grpc.CallOption) error {
	if path.Base(method) != "BuildRecord" || r.record == nil {
		return errors.New("the server is away")
	}
	proto.Merge(reply.(proto.Message), r.record)
	return nil
}

func TestHandoverIsNamedByItsJobAndTime(t *testing.T) {
	t.Parallel()
	zone := time.FixedZone("summer", 3600)
	clock := func() time.Time { return opening.In(zone) }
	record := &pb.BuildRecordResponse{
		Shop: "Millrace Coachworks", Job: &pb.Job{Id: "heron"}, At: timestamppb.New(opening),
		Finds: []*pb.FindRecord{{Find: &pb.Find{Number: 1}, Photos: []*pb.Photo{{Name: "a.jpg", Sha256: "lost"}}}},
	}
	name, files, err := handoverFiles(recorder{record: record}, clock)(t.Context(), "heron")
	require.NoError(t, err)
	assert.Equal(t, "handover-heron-20260310-1115", name)
	names := map[string]bool{}
	for _, f := range files {
		names[f.Name] = true
		assert.NotEmpty(t, f.Data, f.Name)
	}
	assert.True(t, names["record.pdf"] && names["index.html"], "%v", names)

	_, _, err = handoverFiles(recorder{}, clock)(t.Context(), "heron")
	require.ErrorContains(t, err, "away")
}
