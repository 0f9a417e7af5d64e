package service

import (
	"errors"

	"bayword/internal/calc/climate"
	"bayword/internal/calc/coating"
	"bayword/internal/calc/fastener"
	"bayword/internal/calc/fit"
	"bayword/internal/calc/gearing"
	"bayword/internal/calc/wiring"
	"bayword/internal/calc/wrench"
	"bayword/internal/shop"
)

// inputRefusal makes a refusal of an input that a calculation does not take. The
// calculations name their inputs as the requests do.
func inputRefusal(err error) error {
	if field, value, accepted, ok := rejected(err); ok {
		return refusal(shop.OutOfRange, "field", field, "value", value, "accepted", accepted)
	}
	return err
}

// rejected tells which input a calculation did not take, and what it would.
func rejected(err error) (field, value, accepted string, ok bool) {
	var (
		bolt  *fastener.InputError
		arm   *wrench.InputError
		air   *climate.InputError
		cable *wiring.InputError
		road  *gearing.InputError
		panel *fit.InputError
		paint *coating.InputError
	)
	switch {
	case errors.As(err, &bolt):
		return bolt.Field, bolt.Value, bolt.Accepted, true
	case errors.As(err, &arm):
		return arm.Field, arm.Value, arm.Accepted, true
	case errors.As(err, &air):
		return air.Field, air.Value, air.Accepted, true
	case errors.As(err, &cable):
		return cable.Field, cable.Value, cable.Accepted, true
	case errors.As(err, &road):
		return road.Field, road.Value, road.Accepted, true
	case errors.As(err, &panel):
		return panel.Field, panel.Value, panel.Accepted, true
	case errors.As(err, &paint):
		return paint.Field, paint.Value, paint.Accepted, true
	}
	return "", "", "", false
}

// needed is a field that must be there.
type needed struct {
	field string
	there bool
}

// needs refuses for the first field that is not there.
func needs(fields ...needed) error {
	for _, f := range fields {
		if !f.there {
			return refusal(shop.MissingField, "field", f.field)
		}
	}
	return nil
}
