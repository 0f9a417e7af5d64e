package hear

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A customer's consent is never read out of words that are no decision.
func TestNoDecision(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for _, text := range []string{
		"extra 2 is on hold", "extra 2 is on the board", "extra 2 confirmed she wants time",
		"extra 2 still needs a yes", "we need the green light on extra 2", "ok so extra 2", "leave it with me on extra 2",
	} {
		for _, in := range v.Hear(text, bay2()).Intents {
			assert.NotEqual(t, "DecideExtra", in.Kind, text)
		}
	}
}
