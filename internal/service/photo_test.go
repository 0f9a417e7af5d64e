package service_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"log/slog"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"bayword/internal/ledger"
	"bayword/internal/photo"
	"bayword/internal/service"
	pb "bayword/proto/bayword/v1"
)

// withPhotos is the demo shop's service, which keeps photographs in p.
func withPhotos(t *testing.T, p service.PhotoStore) *service.Service {
	t.Helper()
	svc, err := service.New(t.Context(), service.Config{Store: ledger.NewMemory(), Log: slog.New(slog.DiscardHandler), Photos: p})
	require.NoError(t, err)
	require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
	t.Cleanup(func() { require.NoError(t, svc.Close()) })
	return svc
}

// jonah is the apprentice, who may report, and so show what he reports.
var jonah = &pb.Origin{Person: "jonah"}

func TestPhotographIsKeptByItsContent(t *testing.T) {
	t.Parallel()
	svc := withPhotos(t, &photo.Memory{})
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 9, 9)), nil))
	put, err := svc.PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: jonah, Content: b.Bytes()})
	require.NoError(t, err)
	got, err := svc.GetPhoto(t.Context(), &pb.GetPhotoRequest{Sha256: put.GetSha256()})
	require.NoError(t, err)
	assert.Equal(t, b.Bytes(), got.GetContent())

	_, err = svc.PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: jonah, Content: []byte("words")})
	assert.Equal(t, codes.InvalidArgument, status.Code(err))
	assert.Equal(t, map[string]string{"field": "content", "value": "5 bytes", "accepted": "a JPEG or PNG of at most 3 MB"}, info(t, err).Metadata)
	_, err = svc.GetPhoto(t.Context(), &pb.GetPhotoRequest{Sha256: "../head"})
	assert.Equal(t, codes.InvalidArgument, status.Code(err))
	assert.Equal(t, "sha256", info(t, err).Metadata["field"])
	_, err = svc.GetPhoto(t.Context(), &pb.GetPhotoRequest{Sha256: strings.Repeat("0", 64)})
	assert.Equal(t, codes.NotFound, status.Code(err))
	assert.Equal(t, "NOT_FOUND", info(t, err).Reason)
}

func TestPhotographOfAStrangerIsNotKept(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 9, 9)), nil))
	kept := &photo.Memory{}
	svc := withPhotos(t, kept)
	for _, who := range []*pb.Origin{nil, {}, {Person: "U0STRANGER"}} {
		_, err := svc.PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: who, Content: b.Bytes()})
		assert.Equal(t, codes.PermissionDenied, status.Code(err))
		assert.Equal(t, "UNKNOWN_PERSON", info(t, err).Reason)
	}
	_, err := kept.Get(t.Context(), fmt.Sprintf("%x", sha256.Sum256(b.Bytes())))
	require.ErrorIs(t, err, fs.ErrNotExist)
}

func TestWithoutAPlaceForPhotographsThatIsSaid(t *testing.T) {
	t.Parallel()
	svc := withPhotos(t, nil)
	_, err := svc.PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: jonah})
	assert.Equal(t, codes.Unimplemented, status.Code(err))
	_, err = svc.GetPhoto(t.Context(), &pb.GetPhotoRequest{})
	assert.ErrorContains(t, err, "keeps no photographs")
}

// broken is a place for photographs that fails.
type broken struct{ err error }

func (b broken) Put(context.Context, []byte) (string, error) { return "", b.err }
func (b broken) Get(context.Context, string) ([]byte, error) { return nil, b.err }

func TestFailureOfThePlaceForPhotographs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		err  error
		want codes.Code
	}{
		{fmt.Errorf("x: %w", syscall.ENOSPC), codes.ResourceExhausted},
		{fmt.Errorf("x: %w", fs.ErrInvalid), codes.InvalidArgument},
		{context.Canceled, codes.Canceled},
		{errors.New("the disk is gone"), codes.Internal},
	} {
		svc := withPhotos(t, broken{c.err})
		_, err := svc.PutPhoto(t.Context(), &pb.PutPhotoRequest{Origin: jonah})
		assert.Equal(t, c.want, status.Code(err), "%v", c.err)
		_, err = svc.GetPhoto(t.Context(), &pb.GetPhotoRequest{})
		assert.Equal(t, c.want, status.Code(err), "%v", c.err)
	}
}
