package main

import (
	"context"
	"time"

	"bayword/internal/handover"
	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/types/known/timestamppb"
)

// handoverFiles gives the surfaces what they hand over of a job.
func handoverFiles(conn grpc.ClientConnInterface, clock func() time.Time) surface.Files {
	record, kept := pb.NewHandoverServiceClient(conn), newPhotos(conn)
	return func(ctx context.Context, job string) (string, []surface.File, error) {
		r, err := record.BuildRecord(ctx, &pb.BuildRecordRequest{Origin: &pb.Origin{SaidAt: timestamppb.New(clock())}, Job: job})
		if err != nil {
			return "", nil, err
		}
		zone := clock().Location()
		built, err := handover.Build(ctx, r, kept, zone)
		if err != nil {
			return "", nil, err
		}
		files := make([]surface.File, len(built))
		for i, f := range built {
			files[i] = surface.File(f)
		}
		return "handover-" + r.GetJob().GetId() + "-" + r.GetAt().AsTime().In(zone).Format("20060102-1504"), files, nil
	}
}
