// Package store keeps what the user typed: jobs, one record each, written at
// every change and never thrown away by the program.
//
// It talks to any key-value Box, so that the rules below are tested without a
// browser:
//
//   - One job is one key; a write replaces the whole record or fails and leaves
//     the old one.
//   - A record that can't be read is moved aside under a new key, never deleted.
//   - A record of a later format is left untouched and shown as such.
//   - A record that another tab changed in the meantime is not overwritten: the
//     later writer's job is kept as a copy.
package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
	"provingbench/knowledge/unit"
)

// Format is the number of the job record's layout. migrate brings older ones up.
const Format = 2

// Keys in the box.
const (
	jobPrefix   = "provingbench.job."
	asidePrefix = "provingbench.aside."
	currentKey  = "provingbench.current"
)

// Box is a place that keeps text under keys, such as the browser's local storage.
type Box interface {
	Get(key string) (value string, ok bool, err error)
	Set(key, value string) error
	Remove(key string) error
	Keys() ([]string, error)
}

// Job is one truck from complaint to proof.
type Job struct {
	Format     int            `json:"format"`
	ID         string         `json:"id"`
	Revision   int            `json:"revision"`
	Name       string         `json:"name"`
	Created    time.Time      `json:"created"`
	Updated    time.Time      `json:"updated"`
	Archived   bool           `json:"archived,omitempty"`
	Truck      Truck          `json:"truck,omitzero"`
	Complaint  string         `json:"complaint,omitempty"` // in the customer's words
	Happens    string         `json:"happens,omitempty"`   // where and when it does, in words
	Photos     string         `json:"photos,omitempty"`    // names of pictures that somebody took
	Notes      string         `json:"notes,omitempty"`
	Settled    bool           `json:"settled,omitempty"` // the user has said which version and build it is
	Case       diagnosis.Case `json:"case"`
	Made       []Made         `json:"made,omitempty"`       // when and with what each entry of the case was made
	FittedMade []Made         `json:"fittedMade,omitempty"` // the same of each reading of its fitted log; jobs of old have none

	Refusals map[string]string `json:"refusals,omitempty"` // why a check can't be done here, by its id
	Decided  map[string]string `json:"decided,omitempty"`  // what was decided about a line of the repair plan, by the line's key
	Proof    []Proof           `json:"proof,omitempty"`    // entries made after the repair
	Waived   map[string]string `json:"waived,omitempty"`   // why a proved fault is not checked again, by its id
	Closed   time.Time         `json:"closed,omitzero"`
}

// Truck is what was noted about the truck, as typed.
type Truck struct {
	About    string `json:"about,omitempty"` // year, engine, what was done before
	Odometer string `json:"odometer,omitempty"`
	Tyre     string `json:"tyre,omitempty"`
	Axle     string `json:"axle,omitempty"`
}

// Made says when and with which instrument an entry was made.
type Made struct {
	At    time.Time `json:"at,omitzero"`
	Meter string    `json:"meter,omitempty"`
}

// MadeAt returns the k-th of a list that older jobs have shorter or not at all.
func MadeAt(list []Made, k int) Made {
	if k < len(list) {
		return list[k]
	}
	return Made{}
}

// Proof is an entry made after the repair.
type Proof struct {
	Entry diagnosis.Entry `json:"entry"`
	Made  Made            `json:"made,omitzero"`
}

// Clone returns a copy that shares nothing with the job.
func (j *Job) Clone() *Job {
	next := *j
	next.Case.Reports = slices.Clone(j.Case.Reports)
	next.Case.Entries = slices.Clone(j.Case.Entries)
	next.Case.Fitted = j.Case.Fitted.Clone()
	next.Case.Refused = slices.Clone(j.Case.Refused)
	next.Made = slices.Clone(j.Made)
	next.FittedMade = slices.Clone(j.FittedMade)
	next.Proof = slices.Clone(j.Proof)
	next.Refusals, next.Decided, next.Waived = maps.Clone(j.Refusals), maps.Clone(j.Decided), maps.Clone(j.Waived)
	return &next
}

// Notice tells the user about something the store could not do as asked.
type Notice struct {
	Key  string // of the record concerned
	Text string // a full sentence for the screen
}

// Store holds the jobs of a box.
type Store struct {
	box     Box
	now     func() time.Time
	jobs    []*Job
	current string
	notices []Notice
}

// Open reads all jobs from a box. Trouble with single records becomes notices;
// only a box that can't be read at all is an error, and even then the returned
// store works for as long as the page is open.
func Open(box Box, now func() time.Time) (*Store, error) {
	s := &Store{box: box, now: now}
	keys, err := box.Keys()
	if err != nil {
		s.notices = append(s.notices, Notice{Text: "This browser blocks storage for this page. Jobs last only until the page is closed."})
		return s, fmt.Errorf("store: reading keys: %w", err)
	}
	slices.Sort(keys)
	for _, key := range keys {
		if !strings.HasPrefix(key, jobPrefix) {
			continue
		}
		text, ok, err := box.Get(key)
		if err != nil || !ok {
			s.notices = append(s.notices, Notice{key, "One saved job could not be read. It was left as it is."})
			continue
		}
		s.read(key, text)
	}
	if id, ok, err := box.Get(currentKey); err == nil && ok && s.Job(id) != nil {
		s.current = id
	}
	return s, nil
}

func (s *Store) read(key, text string) {
	job, err := decode(text)
	var later *LaterFormatError
	switch {
	case errors.As(err, &later):
		s.notices = append(s.notices, Notice{key, fmt.Sprintf("A saved job was made by a later version of this page (format %d, this page reads up to %d). It was left untouched; update the page to open it.", later.Format, Format)})
	case err != nil:
		aside := asidePrefix + strings.TrimPrefix(key, jobPrefix)
		if s.box.Set(aside, text) == nil {
			_ = s.box.Remove(key) // if it stays, it is only read and set aside again
		}
		s.notices = append(s.notices, Notice{aside, "A saved job was damaged and has been set aside. The other jobs are not affected."})
	default:
		job.ID = strings.TrimPrefix(key, jobPrefix)
		s.jobs = append(s.jobs, job)
	}
}

// LaterFormatError says that a record was written by a later version.
type LaterFormatError struct{ Format int }

func (e *LaterFormatError) Error() string {
	return fmt.Sprintf("store: job format %d is later than %d", e.Format, Format)
}

// decode reads a record of this or an earlier format.
func decode(text string) (*Job, error) {
	var head struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal([]byte(text), &head); err != nil {
		return nil, fmt.Errorf("store: damaged job: %w", err)
	}
	switch {
	case head.Format > Format:
		return nil, &LaterFormatError{head.Format}
	case head.Format < 1:
		return nil, fmt.Errorf("store: job format %d was never used", head.Format)
	}
	record, err := migrate(head.Format, []byte(text))
	if err != nil {
		return nil, fmt.Errorf("store: damaged job: %w", err)
	}
	job := &Job{}
	if err := json.Unmarshal(record, job); err != nil {
		return nil, fmt.Errorf("store: damaged job: %w", err)
	}
	job.Format = Format
	return job, nil
}

// Notices returns what the user must be told, oldest first.
func (s *Store) Notices() []Notice { return s.notices }

// Jobs returns the jobs, the most recently changed first.
func (s *Store) Jobs() []*Job {
	jobs := slices.Clone(s.jobs)
	order.Stable(jobs, func(a, b *Job) int { return b.Updated.Compare(a.Updated) })
	return jobs
}

// Job returns the job with an id, or nil.
func (s *Store) Job(id string) *Job {
	for _, j := range s.jobs {
		if j.ID == id {
			return j
		}
	}
	return nil
}

// Current returns the job being worked on, or nil.
func (s *Store) Current() *Job { return s.Job(s.current) }

// Open makes a job the current one.
func (s *Store) Open(id string) error {
	if s.Job(id) == nil {
		return fmt.Errorf("store: no job %q", id)
	}
	s.current = id
	return s.box.Set(currentKey, id)
}

// NewCase is the case that a new job begins with: nothing said, and a version
// and build assumed until the user says them.
func NewCase() diagnosis.Case {
	return diagnosis.Case{Version: unit.Late, Build: unit.Stock, Level: "wheels"}
}

// Leave makes no job the current one.
func (s *Store) Leave() error {
	s.current = ""
	return s.box.Remove(currentKey)
}

// New starts a job, saves it and makes it current.
func (s *Store) New() (*Job, error) {
	now := s.now().UTC()
	id := now.Format("20060102-150405.000000")
	for s.Job(id) != nil {
		now = now.Add(time.Microsecond)
		id = now.Format("20060102-150405.000000")
	}
	j := &Job{
		Format: Format, ID: id, Created: now, Updated: now,
		Name: "Job of " + now.Format("2 Jan 15:04"),
		Case: NewCase(),
	}
	s.jobs = append(s.jobs, j)
	s.current = id
	if err := s.Save(j); err != nil {
		return j, err
	}
	return j, s.box.Set(currentKey, id)
}

// ErrCopied says that another tab had changed the job, so that this one was
// saved as a copy; the copy is now current.
var ErrCopied = errors.New("store: the job was changed in another tab; yours was kept as a copy")

// Save writes a job. On an error the job is still in memory and the record in
// the box is the old one.
func (s *Store) Save(j *Job) error {
	copied := false
	if text, ok, err := s.box.Get(jobPrefix + j.ID); err == nil && ok {
		if stored, err := decode(text); err == nil && stored.Revision > j.Revision {
			own := *j
			s.read(jobPrefix+j.ID, text)
			s.jobs = slices.DeleteFunc(s.jobs, func(o *Job) bool { return o == j })
			*j = own
			j.ID += "-copy" + s.now().UTC().Format("150405.000000")
			j.Name += " (copy)"
			s.jobs = append(s.jobs, j)
			s.current = j.ID
			copied = true
		}
	}
	next := *j
	next.Revision++
	next.Updated = s.now().UTC()
	text, err := json.Marshal(&next)
	if err != nil {
		return fmt.Errorf("store: encoding job: %w", err)
	}
	if err := s.box.Set(jobPrefix+j.ID, string(text)); err != nil {
		return fmt.Errorf("store: saving job: %w", err)
	}
	*j = next
	if copied {
		return errors.Join(ErrCopied, s.box.Set(currentKey, j.ID))
	}
	return nil
}

// Remove deletes a job and returns it, so that Restore can undo it.
func (s *Store) Remove(id string) (*Job, error) {
	j := s.Job(id)
	if j == nil {
		return nil, fmt.Errorf("store: no job %q", id)
	}
	if err := s.box.Remove(jobPrefix + id); err != nil {
		return nil, fmt.Errorf("store: removing job: %w", err)
	}
	s.jobs = slices.DeleteFunc(s.jobs, func(o *Job) bool { return o == j })
	if s.current == id {
		s.current = ""
		_ = s.box.Remove(currentKey) // a stale id is ignored when the store opens
	}
	return j, nil
}

// Restore puts a removed job back.
func (s *Store) Restore(j *Job) error {
	if s.Job(j.ID) == nil {
		s.jobs = append(s.jobs, j)
	}
	return s.Save(j)
}
