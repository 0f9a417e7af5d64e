package service

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/protoadapt"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// Domain is the domain of every ErrorInfo.
const Domain = "bayword"

const reasonPrefix = "REFUSAL_REASON_"

var refusals = map[shop.Reason]struct {
	reason pb.RefusalReason
	code   codes.Code
}{
	shop.NotAllowed:      {pb.RefusalReason_REFUSAL_REASON_NOT_ALLOWED, codes.PermissionDenied},
	shop.UnknownPerson:   {pb.RefusalReason_REFUSAL_REASON_UNKNOWN_PERSON, codes.PermissionDenied},
	shop.MissingField:    {pb.RefusalReason_REFUSAL_REASON_MISSING_FIELD, codes.InvalidArgument},
	shop.OutOfRange:      {pb.RefusalReason_REFUSAL_REASON_OUT_OF_RANGE, codes.InvalidArgument},
	shop.UnknownName:     {pb.RefusalReason_REFUSAL_REASON_UNKNOWN_NAME, codes.NotFound},
	shop.NotEnoughStock:  {pb.RefusalReason_REFUSAL_REASON_NOT_ENOUGH_STOCK, codes.FailedPrecondition},
	shop.AlreadyExists:   {pb.RefusalReason_REFUSAL_REASON_ALREADY_EXISTS, codes.AlreadyExists},
	shop.NotFound:        {pb.RefusalReason_REFUSAL_REASON_NOT_FOUND, codes.NotFound},
	shop.AlreadyDone:     {pb.RefusalReason_REFUSAL_REASON_ALREADY_DONE, codes.FailedPrecondition},
	shop.Ambiguous:       {pb.RefusalReason_REFUSAL_REASON_AMBIGUOUS, codes.FailedPrecondition},
	shop.NothingToChange: {pb.RefusalReason_REFUSAL_REASON_NOTHING_TO_CHANGE, codes.FailedPrecondition},
	shop.CannotAmend:     {pb.RefusalReason_REFUSAL_REASON_CANNOT_AMEND, codes.InvalidArgument},
	shop.SafetyCritical:  {pb.RefusalReason_REFUSAL_REASON_SAFETY_CRITICAL, codes.FailedPrecondition},
	shop.InUse:           {pb.RefusalReason_REFUSAL_REASON_IN_USE, codes.FailedPrecondition},
}

// failure turns an error into a status with details.
func (s *Service) failure(err error) error {
	var refusal *shop.Refusal
	switch {
	case errors.As(err, &refusal):
		r := refusals[refusal.Reason]
		return refused(r.code, r.reason, refusal.Metadata)
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return status.FromContextError(err).Err()
	case errors.Is(err, ledger.ErrDiskFull):
		return refused(codes.ResourceExhausted, pb.RefusalReason_REFUSAL_REASON_DISK_FULL, nil)
	case errors.Is(err, ledger.ErrTooLarge):
		return refused(codes.InvalidArgument, pb.RefusalReason_REFUSAL_REASON_OUT_OF_RANGE,
			map[string]string{"field": "request", "value": "too large", "accepted": "less than 256 KiB"})
	case errors.Is(err, ledger.ErrClosed), errors.Is(err, ledger.ErrStoreFailed):
		s.log.Error("the store failed", "error", err)
		if errors.Is(err, ledger.ErrStoreFailed) {
			s.failing.Do(func() { close(s.failed) })
		}
		return refused(codes.Unavailable, pb.RefusalReason_REFUSAL_REASON_STORE_FAILED, nil)
	}
	s.log.Error("a request failed", "error", err)
	return status.Error(codes.Internal, "this failed inside the service; it is in its log")
}

// refused makes the status of a refusal. Its message is for a log: programs go by
// the details.
func refused(code codes.Code, reason pb.RefusalReason, metadata map[string]string) error {
	name := strings.TrimPrefix(reason.String(), reasonPrefix)
	text := strings.ToLower(strings.ReplaceAll(name, "_", " "))
	for _, k := range slices.Sorted(maps.Keys(metadata)) {
		if !strings.HasPrefix(k, "option.") {
			text += "; " + k + " " + metadata[k]
		}
	}
	details := []protoadapt.MessageV1{&errdetails.ErrorInfo{Reason: name, Domain: Domain, Metadata: metadata}}
	if field := metadata["field"]; field != "" {
		details = append(details, &errdetails.BadRequest{FieldViolations: []*errdetails.BadRequest_FieldViolation{{
			Field: field, Description: strings.TrimSpace(name + " " + metadata["accepted"]),
		}}})
	}
	st, err := status.New(code, text).WithDetails(details...)
	if err != nil {
		return status.Error(code, text)
	}
	return st.Err()
}
