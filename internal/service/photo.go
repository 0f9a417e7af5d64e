package service

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "bayword/proto/bayword/v1"
)

// MaxPhotoMessage is how large a request that carries a photograph may be, in
// bytes: a photograph of 3 MB and what is around it.
const MaxPhotoMessage = 3<<20 + 4<<10

// PhotoStore keeps photographs by what is in them. An error that is
// fs.ErrInvalid says that the content or the name cannot be one, fs.ErrNotExist
// that there is no such photograph, syscall.ENOSPC that the disk is nearly full.
type PhotoStore interface {
	// Put keeps a photograph and names it by the SHA-256 of its content, in hexadecimal.
	Put(ctx context.Context, content []byte) (sha256 string, err error)
	// Get returns a photograph.
	Get(ctx context.Context, sha256 string) ([]byte, error)
}

// PutPhoto keeps a photograph, for whom the shop knows.
func (s *Service) PutPhoto(ctx context.Context, req *pb.PutPhotoRequest) (*pb.PutPhotoResponse, error) {
	s.mu.RLock()
	err := s.state.MayKeepPhoto(req.GetOrigin().GetPerson())
	s.mu.RUnlock()
	switch {
	case err != nil:
		return nil, s.failure(err)
	case s.photos == nil:
		return nil, noPhotos()
	}
	sum, err := s.photos.Put(ctx, req.GetContent())
	if err != nil {
		return nil, s.photoFailure(err, "content", fmt.Sprintf("%d bytes", len(req.GetContent())), "a JPEG or PNG of at most 3 MB")
	}
	return &pb.PutPhotoResponse{Sha256: sum}, nil
}

// GetPhoto returns a photograph.
func (s *Service) GetPhoto(ctx context.Context, req *pb.GetPhotoRequest) (*pb.GetPhotoResponse, error) {
	if s.photos == nil {
		return nil, noPhotos()
	}
	content, err := s.photos.Get(ctx, req.GetSha256())
	if err != nil {
		return nil, s.photoFailure(err, "sha256", req.GetSha256(), "64 lower-case hexadecimal digits")
	}
	return &pb.GetPhotoResponse{Content: content}, nil
}

func noPhotos() error {
	return status.Error(codes.Unimplemented, "this server keeps no photographs: it was started without a place for them")
}

func (s *Service) photoFailure(err error, field, value, accepted string) error {
	switch {
	case errors.Is(err, fs.ErrInvalid):
		return refused(codes.InvalidArgument, pb.RefusalReason_REFUSAL_REASON_OUT_OF_RANGE,
			map[string]string{"field": field, "value": value, "accepted": accepted})
	case errors.Is(err, fs.ErrNotExist):
		return refused(codes.NotFound, pb.RefusalReason_REFUSAL_REASON_NOT_FOUND, map[string]string{"field": field, "value": value})
	case errors.Is(err, syscall.ENOSPC):
		return refused(codes.ResourceExhausted, pb.RefusalReason_REFUSAL_REASON_DISK_FULL, nil)
	}
	return s.failure(err)
}
