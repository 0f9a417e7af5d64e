package main

import (
	"context"
	"errors"
	"fmt"

	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// photos keeps photographs with the server and gets them from there.
type photos struct{ service pb.PhotoServiceClient }

func newPhotos(conn grpc.ClientConnInterface) photos { return photos{pb.NewPhotoServiceClient(conn)} }

// keep keeps a photograph that a person gives; its errors are for people.
func (p photos) keep(ctx context.Context, person string, data []byte) (string, error) {
	if len(data) > surface.MaxPhoto {
		return "", surface.NotTaken("it is larger than 3 MB")
	}
	r, err := p.service.PutPhoto(ctx, &pb.PutPhotoRequest{Origin: &pb.Origin{Person: person}, Content: data})
	switch status.Code(err) {
	case codes.OK:
		return r.GetSha256(), nil
	case codes.PermissionDenied:
		return "", surface.NotTaken(fmt.Sprintf("the shop does not know %q", person))
	case codes.InvalidArgument:
		return "", surface.NotTaken("it is no JPEG or PNG of at most 3 MB")
	case codes.ResourceExhausted:
		return "", errors.New("the server's disk is nearly full")
	case codes.Unimplemented:
		return "", surface.NotTaken("the server keeps no photographs")
	}
	return "", err
}

// Photo gets a photograph for the handover folder.
func (p photos) Photo(ctx context.Context, sha256 string) ([]byte, error) {
	r, err := p.service.GetPhoto(ctx, &pb.GetPhotoRequest{Sha256: sha256})
	return r.GetContent(), err
}
