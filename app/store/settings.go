package store

import (
	"encoding/json"
	"fmt"

	"provingbench/knowledge/quantity"
)

const settingsKey = "provingbench.settings"

// Settings are the user's ways, the same for all jobs.
type Settings struct {
	Units quantity.Preference `json:"units"`
	Meter string              `json:"meter,omitempty"` // the instrument at hand, as its owner calls it
}

// Settings returns the user's ways. What is kept and can't be read is the
// standard ones; they are soon set again.
func (s *Store) Settings() Settings {
	var kept Settings
	text, ok, err := s.box.Get(settingsKey)
	if err != nil || !ok || json.Unmarshal([]byte(text), &kept) != nil {
		return Settings{}
	}
	return kept
}

// SetSettings keeps the user's ways.
func (s *Store) SetSettings(x Settings) error {
	text, err := json.Marshal(x)
	if err != nil {
		return fmt.Errorf("store: encoding settings: %w", err)
	}
	if err := s.box.Set(settingsKey, string(text)); err != nil {
		return fmt.Errorf("store: saving settings: %w", err)
	}
	return nil
}
