package say

import (
	pb "bayword/proto/bayword/v1"
)

// listLowStock is a line a material at or below its reorder level.
func listLowStock(r *pb.ListLowStockResponse) Reply {
	if len(r.GetStocks()) == 0 {
		return text("Nothing is low.")
	}
	items := make([]string, len(r.GetStocks()))
	for i, s := range r.GetStocks() {
		items[i] = short(stockName(s)) + ": " + left(s) + ", " + reorder(s)
		if s.GetFirstOutExpired() {
			items[i] += "; " + firstOut(s)
		}
		if s.GetDaysLeftLow() > 0 {
			items[i] += "; " + plain(s.GetForecast())
		}
	}
	more := r.GetNextPageToken() != ""
	head := plural(len(items), "material is low:", "materials are low:")
	if more {
		head = "At least " + head
	}
	return text(append([]string{head}, listed(items, 0, more)...)...)
}
