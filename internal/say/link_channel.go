package say

import (
	pb "bayword/proto/bayword/v1"
)

// linkChannel is «bay-2 stands for the heron now, not for the tern.»
func linkChannel(r *pb.LinkChannelResponse, n Names) Reply {
	channel := orElse(short(r.GetChannel()), "this channel")
	if channel == "dm" {
		channel = "a direct message"
	}
	job, not := n.job(r.GetJob()), ""
	if job == "" {
		job = "no vehicle"
	}
	if r.GetBefore() != "" && r.GetBefore() != r.GetJob() {
		not = ", not for " + n.job(r.GetBefore())
	}
	return receipt(r.GetReceipt(), channel+" stands for "+job+" now"+not+".")
}
