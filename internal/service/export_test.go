package service

// Snapshot encodes the state, for tests.
func (s *Service) Snapshot() ([]byte, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.state.Snapshot()
}
