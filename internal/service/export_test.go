package service

import (
	"bayword/internal/shop"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
)

// Snapshot encodes the state, for tests.
func (s *Service) Snapshot() ([]byte, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.state.Snapshot()
}

// Load gives the event that a ledger entry holds, for tests.
func Load(e *ledgerv1.Event) (shop.Event, error) { return load(e) }

// Clean is what every request goes through first, for tests that call a method.
var Clean = clean
