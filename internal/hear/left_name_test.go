package hear

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A record that leaves out a place, a name, a day or a number that was said is none.
func TestNoRecordLeavesANameOut(t *testing.T) {
	t.Parallel()
	recordsWhole(t, map[string]bool{
		"crack in the ns front arch 35 long":                             true,
		"crack in the ns front arch 35 long, os b post":                  false,
		"os scuttle sound, hole 40 by 20 in the ns front arch, os":       false,
		"4 hours on task 3":                                              true,
		"hours 4 on task 3 and the same on task 5":                       false,
		"4 hours yesterday":                                              true,
		"4 hours yesterday and friday the same":                          false,
		"os door rear edge gap 4 4 5":                                    true,
		"os door rear edge gap 4 4 5, top edge much the same":            false,
		"hole in the ns front arch 40 dia, 60 by 30 with the thin metal": false,
	})
}

// What is undone again, planned, a range, a wish or another's word is signed off by
// nobody, and no book value.
func TestNothingIsSignedOffThatIsNotSo(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for _, text := range []string{
		"wheel nuts done 88 and then had to undo them", "wheel nuts done 88, backed them off again",
		"wheel nuts to be torqued 88 in the morning", "get the wheel nuts done 88",
		"once the wheel nuts are done 88 drop it", "are the wheel nuts done at 88",
		"wheel nuts done 85/88", "wheel nuts done 85 to 88", "wheel nuts done 88 i hope",
		"jonah said the wheel nuts are done at 88", "wheel nuts done 88, two still loose",
		"book used to say 80 for the wheel nuts", "book says wheel nuts 80 to 88 nm",
	} {
		intents := v.Hear(text, bay2()).Intents
		for _, in := range intents {
			assert.False(t, isWrite(in.Kind) && len(in.Missing) == 0, "%s: %v", text, in)
		}
	}
	for text, fastener := range map[string]string{"steering wheel nut done 50": "steering wheel nut", "spare wheel nut done 50": "spare wheel nut", "wheel nuts done 88": "wheel nut"} {
		intents := v.Hear(text, bay2()).Intents
		if assert.Len(t, intents, 1, text) {
			assert.Equal(t, fastener, intents[0].text("fastener"), text)
		}
	}
}
