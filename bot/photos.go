package main

import (
	"context"
	"errors"

	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// photos keeps photographs with the server and gets them from there.
type photos struct{ service pb.PhotoServiceClient }

func newPhotos(conn grpc.ClientConnInterface) photos { return photos{pb.NewPhotoServiceClient(conn)} }

// keep keeps a photograph; its errors are for people.
func (p photos) keep(ctx context.Context, data []byte) (string, error) {
	if len(data) > surface.MaxPhoto {
		return "", errors.New("it is larger than 3 MB")
	}
	r, err := p.service.PutPhoto(ctx, &pb.PutPhotoRequest{Content: data})
	switch status.Code(err) {
	case codes.OK:
		return r.GetSha256(), nil
	case codes.InvalidArgument:
		return "", errors.New("it is no JPEG or PNG of at most 3 MB")
	case codes.ResourceExhausted:
		return "", errors.New("the server's disk is nearly full")
	case codes.Unimplemented:
		return "", errors.New("the server keeps no photographs")
	}
	return "", err
}

// Photo gets a photograph for the handover folder.
func (p photos) Photo(ctx context.Context, sha256 string) ([]byte, error) {
	r, err := p.service.GetPhoto(ctx, &pb.GetPhotoRequest{Sha256: sha256})
	return r.GetContent(), err
}
