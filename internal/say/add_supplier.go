package say

import (
	pb "bayword/proto/bayword/v1"
)

// addSupplier is «Supplier on the list: Fenwright Fasteners.»
func addSupplier(r *pb.AddSupplierResponse) Reply {
	return receipt(r.GetReceipt(), "Supplier on the list: "+stopped(r.GetName()))
}
