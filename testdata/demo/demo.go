// Package demo holds the invented shop that the examples, the tests and the
// -demo flag use. It imports nothing.
package demo

import _ "embed"

// ShopYAML is the demo shop in the format that -import reads.
//
//go:embed shop.yaml
var ShopYAML []byte
