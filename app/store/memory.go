package store

import "maps"
import "slices"

// Memory is a Box that lasts as long as the page: for prerendering, for tests
// and for browsers that block storage.
type Memory map[string]string

// Get implements Box.
func (m Memory) Get(key string) (string, bool, error) {
	v, ok := m[key]
	return v, ok, nil
}

// Set implements Box.
func (m Memory) Set(key, value string) error {
	m[key] = value
	return nil
}

// Remove implements Box.
func (m Memory) Remove(key string) error {
	delete(m, key)
	return nil
}

// Keys implements Box.
func (m Memory) Keys() ([]string, error) { return slices.Collect(maps.Keys(m)), nil }
