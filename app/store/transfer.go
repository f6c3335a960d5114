package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"provingbench/knowledge/unit"
)

// What a transfer file says of itself. DEVELOPERS.md documents its layout.
const (
	TransferKind   = "provingbench"
	TransferFormat = 1
	// MaxTransfer is the most that is read of a file, in bytes: some thousand jobs.
	MaxTransfer = 8 << 20
)

// A Transfer is jobs and the user's own values on their way from one device to
// another, as a file or a link.
type Transfer struct {
	Kind   string                   `json:"kind"`
	Format int                      `json:"format"`
	Made   time.Time                `json:"made,omitzero"`
	Tool   string                   `json:"tool,omitempty"` // the version that made it
	Jobs   []*Job                   `json:"jobs,omitempty"`
	Values map[string]unit.OwnLimit `json:"values,omitempty"` // by acceptance id
}

// A TransferError says why a file can't be taken, and where in it.
type TransferError struct {
	Where  string // "line 3, column 14", "job 2"; empty for the whole
	Reason string // in a sentence
	cause  error
}

func (e *TransferError) Error() string {
	if e.Where == "" {
		return "store: " + e.Reason
	}
	return "store: " + e.Where + ": " + e.Reason
}

func (e *TransferError) Unwrap() error { return e.cause }

// Sentence is the error for the person who picked the file.
func (e *TransferError) Sentence() string {
	if e.Where == "" {
		return e.Reason
	}
	return "At " + e.Where + ": " + e.Reason
}

// Pack writes a transfer file.
func Pack(t Transfer) ([]byte, error) {
	t.Kind, t.Format = TransferKind, TransferFormat
	out, err := json.MarshalIndent(t, "", "\t")
	if err != nil {
		return nil, fmt.Errorf("store: encoding a transfer: %w", err)
	}
	return append(out, '\n'), nil
}

// Unpack reads a transfer file. Jobs of earlier formats are brought up. A file
// that is damaged anywhere is refused as a whole, with the place named: half a
// file is not taken for all of it.
//
// Errors: *TransferError.
func Unpack(data []byte) (Transfer, error) {
	if len(data) > MaxTransfer {
		return Transfer{}, &TransferError{Reason: fmt.Sprintf("The file is larger than %d MB. It is no file of this tool.", MaxTransfer>>20)}
	}
	var raw struct {
		Kind   string                   `json:"kind"`
		Format int                      `json:"format"`
		Made   time.Time                `json:"made"`
		Tool   string                   `json:"tool"`
		Jobs   []json.RawMessage        `json:"jobs"`
		Values map[string]unit.OwnLimit `json:"values"`
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&raw); err != nil {
		return Transfer{}, damaged(data, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Transfer{}, &TransferError{Where: place(data, d.InputOffset()), Reason: "Something follows after the end of the file. It is damaged."}
	}
	switch {
	case raw.Kind != TransferKind:
		return Transfer{}, &TransferError{Reason: "This is no file of this tool: it does not say that it is one."}
	case raw.Format > TransferFormat:
		return Transfer{}, &TransferError{Reason: fmt.Sprintf("The file was made by a later version of this tool (layout %d, this one reads up to %d). Update, then try again.", raw.Format, TransferFormat)}
	case raw.Format < 1:
		return Transfer{}, &TransferError{Reason: "The file does not say which layout it has. It is damaged."}
	}
	t := Transfer{Kind: raw.Kind, Format: TransferFormat, Made: raw.Made, Tool: raw.Tool, Values: raw.Values}
	seen := map[string]bool{}
	for k, record := range raw.Jobs {
		where := fmt.Sprintf("job %d", k+1)
		j, err := decode(string(record))
		var later *LaterFormatError
		switch {
		case errors.As(err, &later):
			return Transfer{}, &TransferError{where, "It was made by a later version of this tool. Update, then try again.", err}
		case err != nil:
			return Transfer{}, &TransferError{where, "It is damaged. Nothing was taken from the file.", err}
		case j.ID == "" || len(j.ID) > 80:
			return Transfer{}, &TransferError{where, "It has no usable id. Nothing was taken from the file.", nil}
		case seen[j.ID]:
			return Transfer{}, &TransferError{where, "Its id is that of another job of the file. Nothing was taken from the file.", nil}
		}
		seen[j.ID] = true
		t.Jobs = append(t.Jobs, j)
	}
	return t, nil
}

// damaged names the place at which a file stops being readable.
func damaged(data []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return &TransferError{place(data, syntax.Offset), "The file can't be read from here on. It is damaged, or no file of this tool.", err}
	case errors.As(err, &kind):
		return &TransferError{place(data, kind.Offset), "Here stands something else than belongs there. The file is damaged, or no file of this tool.", err}
	}
	return &TransferError{"", "The file ends too early, or is no file of this tool.", err}
}

// place is an offset as a line and a column.
func place(data []byte, offset int64) string {
	before := data[:min(int(offset), len(data))]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := len(before) - bytes.LastIndexByte(before, '\n')
	return fmt.Sprintf("line %d, column %d", line, column)
}

// Aside lists what was damaged and set aside, as it is kept, by its key.
func (s *Store) Aside() map[string]string {
	out := map[string]string{}
	keys, err := s.box.Keys()
	if err != nil {
		return out
	}
	for _, key := range keys {
		if text, ok, err := s.box.Get(key); strings.HasPrefix(key, asidePrefix) && ok && err == nil {
			out[key] = text
		}
	}
	return out
}

// DropAside deletes what was set aside under a key.
func (s *Store) DropAside(key string) error {
	if !strings.HasPrefix(key, asidePrefix) {
		return fmt.Errorf("store: %q was not set aside", key)
	}
	return s.box.Remove(key)
}

// An Arrival is what taking one job of a transfer would do.
type Arrival struct {
	Job  *Job
	Same bool // the job is here already, just so
	Here *Job // the job of the same id that is here and differs; nil for a new one
}

// Arrivals says what taking the jobs of a transfer would do.
func (s *Store) Arrivals(t Transfer) []Arrival {
	var out []Arrival
	for _, j := range t.Jobs {
		here := s.Job(j.ID)
		a := Arrival{Job: j, Here: here}
		if here != nil && sameContent(here, j) {
			a.Same, a.Here = true, nil
		}
		out = append(out, a)
	}
	return out
}

// sameContent compares two jobs but for how often and when they were written.
func sameContent(a, b *Job) bool {
	x, y := *a, *b
	x.Revision, y.Revision = 0, 0
	x.Updated, y.Updated = time.Time{}, time.Time{}
	left, errLeft := json.Marshal(x)
	right, errRight := json.Marshal(y)
	return errLeft == nil && errRight == nil && bytes.Equal(left, right)
}

// Accept takes a job of a transfer in. One that differs from the job of the same
// id that is here comes in beside it, under a new id; nothing is overwritten.
func (s *Store) Accept(a Arrival) (*Job, error) {
	if a.Same {
		return s.Job(a.Job.ID), nil
	}
	j := a.Job.Clone()
	if s.Job(j.ID) != nil {
		j.ID += "-in" + s.now().UTC().Format("20060102150405.000000")
		j.Name += " (brought in)"
	}
	j.Revision = 0
	if _, taken, err := s.box.Get(jobPrefix + j.ID); err != nil || taken {
		// A record that this version can't read keeps its place.
		j.ID += "-in" + s.now().UTC().Format("20060102150405.000000")
	}
	s.jobs = append(s.jobs, j)
	return j, s.Save(j)
}
