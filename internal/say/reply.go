// Package say turns a response of the service into a neutral Reply that every
// chat surface can show. One file a kind. It may import the generated API types
// and unit; it never reads a refusal's text, only its reason and metadata.
package say

// Reply is what the bot says, free of any surface's markup.
type Reply struct {
	Text     string   `json:"text"`               // plain text, lines by \n, under 3,000 characters
	Choices  []Choice `json:"choices,omitempty"`  // at most five, in the order offered
	Picture  []byte   `json:"picture,omitempty"`  // a PNG to show beside the text, for a phone's width
	Handover string   `json:"handover,omitempty"` // id of the job whose handover folder the surface is to hand over
	Quiet    bool     `json:"quiet,omitempty"`    // a receipt: a surface may show it as a reaction plus one short line
}

// Choice is one answer a person can press instead of typing.
type Choice struct {
	Label string `json:"label"` // at most 75 characters
	Say   string `json:"say"`   // what pressing it says
}
