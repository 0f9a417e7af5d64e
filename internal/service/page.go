package service

import (
	"encoding/base64"
	"strconv"
	"strings"

	"bayword/internal/shop"
)

const (
	defaultPage = 50
	largestPage = 200
	tokenPrefix = "1:" // so that tokens of another version are known
)

func pageSize(asked int32) int {
	if asked <= 0 {
		return defaultPage
	}
	return int(min(asked, largestPage))
}

// page gives the part of n lines that a token and a size ask for, and the token of
// the next page, empty on the last.
func page(asked string, size int32, n int) (from, to int, next string, err error) {
	start, err := before(asked)
	if err != nil {
		return 0, 0, "", err
	}
	from = int(min(start, uint64(n)))
	to = min(from+pageSize(size), n)
	if to < n {
		next = pageToken(uint64(to))
	}
	return from, to, next, nil
}

func pageToken(at uint64) string {
	return base64.RawURLEncoding.EncodeToString([]byte(tokenPrefix + strconv.FormatUint(at, 10)))
}

// before reads a token; 0 for none.
func before(asked string) (uint64, error) {
	if asked == "" {
		return 0, nil
	}
	text, err := base64.RawURLEncoding.DecodeString(asked)
	digits, ok := strings.CutPrefix(string(text), tokenPrefix)
	at, perr := strconv.ParseUint(digits, 10, 32)
	if err != nil || !ok || perr != nil {
		return 0, refusal(shop.OutOfRange, "field", "page_token", "value", cut(asked, 40), "accepted", "the next_page_token of the page before")
	}
	return at, nil
}

// refusal makes a refusal of keys and values in turn.
func refusal(reason shop.Reason, kv ...string) *shop.Refusal {
	m := make(map[string]string, len(kv)/2)
	for i := 0; i+1 < len(kv); i += 2 {
		m[kv[i]] = kv[i+1]
	}
	return &shop.Refusal{Reason: reason, Metadata: m}
}
