package learn

import (
	"encoding/json"
	"slices"

	"provingbench/app/store"
	"provingbench/knowledge/unit"
)

// practiceKey is where what was done on made-up trucks is kept. Jobs have keys of
// their own.
const practiceKey = "provingbench.practice"

// mostTrucks is how many made-up trucks are kept; the oldest go.
const mostTrucks = 20

// kept is what was done on a made-up truck. The truck itself comes from its seed.
type kept struct {
	Version   unit.Version `json:"version"`
	Seed      uint32       `json:"seed"`
	Checks    []string     `json:"checks,omitempty"`
	Called    []string     `json:"called,omitempty"`
	Comebacks int          `json:"comebacks,omitempty"` // road tests that failed
	Over      bool         `json:"over,omitempty"`
	Silent    bool         `json:"silent,omitempty"` // comments come at the end
}

// practiceLog is the made-up trucks that were worked on, the latest first.
type practiceLog struct{ trucks []kept }

// readPractice reads the log; what can't be read counts as none.
func readPractice(box store.Box) practiceLog {
	var l practiceLog
	text, ok, err := box.Get(practiceKey)
	if err != nil || !ok || json.Unmarshal([]byte(text), &l.trucks) != nil {
		return practiceLog{}
	}
	return l
}

func (l *practiceLog) find(v unit.Version, seed uint32) *kept {
	for i := range l.trucks {
		if l.trucks[i].Version == v && l.trucks[i].Seed == seed {
			return &l.trucks[i]
		}
	}
	return nil
}

func (l *practiceLog) last() *kept {
	if len(l.trucks) == 0 {
		return nil
	}
	return &l.trucks[0]
}

// put writes a truck to the head of the log. A browser that keeps nothing loses the
// practice with the page, and nothing else.
func (l *practiceLog) put(box store.Box, k kept) {
	rest := slices.DeleteFunc(slices.Clone(l.trucks), func(x kept) bool { return x.Version == k.Version && x.Seed == k.Seed })
	l.trucks = append([]kept{k}, rest...)
	l.trucks = l.trucks[:min(len(l.trucks), mostTrucks)]
	if text, err := json.Marshal(l.trucks); err == nil {
		_ = box.Set(practiceKey, string(text))
	}
}
