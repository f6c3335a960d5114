package store

import (
	"encoding/json"
	"time"
)

// migrate brings a job's record from a format up to the present one.
//
// Format 1 had one text for the truck and bare times for the entries.
func migrate(format int, record []byte) ([]byte, error) {
	if format >= 2 {
		return record, nil
	}
	fields := map[string]json.RawMessage{}
	if err := json.Unmarshal(record, &fields); err != nil {
		return nil, err
	}
	var old struct {
		Truck string      `json:"truck"`
		Times []time.Time `json:"times"`
	}
	if err := json.Unmarshal(record, &old); err != nil {
		return nil, err
	}
	made := make([]Made, len(old.Times))
	for k, at := range old.Times {
		made[k].At = at
	}
	var err error
	if fields["truck"], err = json.Marshal(Truck{About: old.Truck}); err != nil {
		return nil, err
	}
	if fields["made"], err = json.Marshal(made); err != nil {
		return nil, err
	}
	delete(fields, "times")
	return json.Marshal(fields)
}
