package say

import (
	pb "bayword/proto/bayword/v1"
)

// addPerson is «Jonah (jonah) is in the shop now: apprentice, strip.»
func addPerson(r *pb.AddPersonResponse) Reply {
	who := named(r.GetName(), r.GetId())
	if r.GetId() != "" && r.GetId() != who {
		who += " (" + short(r.GetId()) + ")"
	}
	did := " is in the shop now"
	if r.GetChanged() {
		did = " is changed"
	}
	chat := ""
	if r.GetChatUser() != "" {
		chat = "on the chat as " + short(r.GetChatUser())
	}
	line := upper(orElse(who, "somebody")) + did
	if about := comma(short(r.GetRole()), short(r.GetTrade()), chat); about != "" {
		line += ": " + about
	}
	return receipt(r.GetReceipt(), line+".")
}
