package hear

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// recordsWhole checks which messages make a record with nothing missing.
func recordsWhole(t *testing.T, messages map[string]bool) {
	t.Helper()
	v := shopNames(t)
	for text, recorded := range messages {
		intents := v.Hear(text, bay2()).Intents
		assert.Equal(t, recorded, len(intents) > 0 && complete(intents[0]), "%s: %v", text, intents)
	}
}

// A figure that was said and that no field takes means that the message was not
// understood: nothing is recorded of it.
func TestNoRecordLeavesAFigureOut(t *testing.T) {
	t.Parallel()
	recordsWhole(t, map[string]bool{
		"rust holes in the scuttle, 55 by 30":          true,
		"rust hole in the scuttle 55 by 30, 17, 4":     false,
		"5 hours on the scuttle, 2 in all that matter": true, // what it took in all is no entry of today's
		"welded at the scuttle for 5 hours 9 and 7":    false,
	})
}

// A clause of which nothing was understood keeps the rest of its message from being
// recorded as if it were the whole.
func TestNoRecordLeavesAClauseOut(t *testing.T) {
	t.Parallel()
	recordsWhole(t, map[string]bool{
		"2 radiator hoses arrived for the tern":                      true,
		"2 radiator hoses arrived for the tern, and a tub of filler": true,
		"2 radiator hoses arrived for the tern, bar the filler":      false,
		"finished the blocking, no clear on it yet":                  true,
		"3 tins of epoxy came, batch R17":                            true,
		"os door rear edge gap 4 4 5, xxnt edge 5 5 4":               false,
	})
}

// A number of which a word was not understood is no number.
func TestNoRecordOfANumberHalfHeard(t *testing.T) {
	t.Parallel()
	recordsWhole(t, map[string]bool{
		"used three quarters of a tin of filler": true,
		"used txxe quarters of a tin of filler":  false,
		"used point xhre of a tin of filler":     false,
		"counted the p80s, fifty nine":           true,
		"counted the p80s, fzzty nine":           false,
		"wheel nuts done, seven and a half kgm":  true,
		"wheel nuts done, seven and hzzf kgm":    false,
		"trxe and a half hours on the sill":      false,
		"three and a half hours on the sill":     true,
		"2 bzxes of p80s came":                   false,
		"2 boxes of p80s came":                   true,
	})
}

// Another part's bolts are not the ones on record: «gearbox mount bolts» are not the
// engine's, and their torque is never given for them.
func TestAFastenerOfAnotherPartIsAnother(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for text, fastener := range map[string]string{
		"whats the mount bolt torque":         "engine mount bolt",
		"whats the engine mount bolt torque":  "engine mount bolt",
		"whats the gearbox mount bolt torque": "gearbox mount bolt",
	} {
		intents := v.Hear(text, bay2()).Intents
		require.Len(t, intents, 1, text)
		assert.Equal(t, fastener, intents[0].text("fastener"), text)
	}
}
