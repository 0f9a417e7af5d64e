package hear

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How many were done is never taken for how tight: of two figures only one that is
// plainly the torque is recorded, else it is asked for.
func TestHowManyIsNotHowTight(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for text, want := range map[string][2]any{
		"wheel nuts done, 5 at 90":                   {90.0, 5},
		"been round the wheel nuts, four done at 88": {88.0, 4},
		"wheel nuts torqued, all five, 88":           {88.0, 5},
		"wheel nuts done 88, four of them":           {88.0, 4},
		"wheel nuts done 88 nm, all 5":               {88.0, 5},
		"wheel nuts torqued 88":                      {88.0, nil},
		"wheel nuts torqued 5 88":                    {nil, nil},
	} {
		intents := v.Hear(text, bay2()).Intents
		require.Len(t, intents, 1, text)
		assert.Equal(t, "RecordTorque", intents[0].Kind, text)
		assert.Equal(t, want[0], intents[0].Fields["torque_nm"], text)
		assert.Equal(t, want[1], intents[0].Fields["count"], text)
	}
}
