package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bayword/internal/shop"
)

// What carries load, is welded, or keeps people safe on the road an apprentice does
// with somebody of that trade beside. Common practice, no source.
func TestWhoIsBesideAnApprentice(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for title, c := range map[string]struct {
		stage shop.Stage
		with  []string
	}{
		"replace the right sill":           {shop.Metal, []string{"idris"}},
		"let in a rear wing corner":        {shop.Metal, []string{"idris"}},
		"welding the badge holes":          {shop.Metal, []string{"idris"}},
		"overhaul the front brakes":        {shop.Mechanical, []string{"tomasz"}},
		"new track rod ends":               {shop.Mechanical, []string{"tomasz"}},
		"fit the rear seat belts":          {shop.Assembly, []string{"wren"}},
		"drop the petrol tank":             {shop.Mechanical, []string{"tomasz"}},
		"strip the shell to bare metal":    {shop.Strip, nil},
		"fill and block":                   {shop.Paint, nil},
		"check the door aperture":          {shop.Metal, nil},
		"polish the lamp bezels":           {shop.Paint, nil},
		"refit the carpets on the tunnel":  {shop.Trim, nil},
		"make the gearbox crossmember":     {shop.Mechanical, []string{"tomasz"}},
		"adjust the shoes of a brake drum": {shop.Mechanical, []string{"tomasz"}},
	} {
		task := shop.TaskAdded{Number: 13, Job: "tern", Title: title, Stage: c.stage}
		with, needed := st.Beside("jonah", task)
		assert.Equal(t, c.with, with, title)
		assert.Equal(t, c.with != nil, needed, title)
		for _, able := range []string{"idris", "wren", "bo", ""} {
			_, needed := st.Beside(able, task)
			assert.False(t, needed, able)
		}
	}
}

func TestWhatIsCheckedOnceItIsDone(t *testing.T) {
	t.Parallel()
	assert.Contains(t, shop.DoneCaution("overhaul the front brakes", shop.Mechanical), "Brakes: look at every joint")
	assert.Contains(t, shop.DoneCaution("weld in both sills", shop.Metal), "carries load")
	assert.Empty(t, shop.DoneCaution("stone-chip the sills", shop.Paint))
	assert.Empty(t, shop.DoneCaution("rear wing panel", shop.Metal))
	assert.Empty(t, shop.DoneCaution("door seal set", shop.Metal))
}
