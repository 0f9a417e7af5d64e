package say

import (
	pb "bayword/proto/bayword/v1"
)

// addMaterial is «New on the list: zinc primer (zinc-primer), 2 L on the shelf, reorder at 1 L, a pack is 1 L.»
func addMaterial(r *pb.AddMaterialResponse) Reply {
	s := r.GetStock()
	return receipt(r.GetReceipt(), "New on the list: "+comma(materialAdded(s), counting(s.GetUnit()), onShelf(s), reorder(s))+".", low(s))
}

func materialAdded(s *pb.Stock) string {
	if s.GetName() == "" || s.GetName() == s.GetMaterial() {
		return plain(s.GetMaterial())
	}
	return plain(s.GetName()) + " (" + plain(s.GetMaterial()) + ")"
}

func counting(u string) string {
	switch u {
	case "", "each":
		return "counted one by one"
	case "m2":
		return "in m²"
	}
	return "in " + plain(u)
}
