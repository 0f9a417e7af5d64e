package shopfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
	"bayword/testdata/demo"
)

func TestTheDemoShopIsWhole(t *testing.T) {
	t.Parallel()
	events, err := Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)

	count := map[string]int{}
	st := shop.New()
	for i, e := range events {
		_, err := st.Apply(shop.Meta{Seq: uint64(i) + 1}, e)
		require.NoError(t, err)
		count[strings.TrimPrefix(typeName(e), "shop.")]++
	}
	assert.Equal(t, map[string]int{
		"ShopOpened": 1, "PersonAdded": 6, "ChannelAdded": 6, "JobCreated": 4, "SupplierAdded": 4, "MaterialAdded": 20,
		"PanelAreaSet": 16, "GapSet": 8, "DoorGeometrySet": 2, "TorqueSet": 13, "TaskAdded": 12, "FindRecorded": 4,
		"PartOrdered": 4, "CoatRecorded": 1, "ExtraProposed": 2, "SnagAdded": 1,
	}, count)
}
