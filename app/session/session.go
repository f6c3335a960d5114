// Package session is what the screens share while the tool is open: the job at
// hand, the engine's answer to it, and what the user has to be told.
//
// A screen reads from it in Render, asks it for changes in its event handlers,
// and calls Watch when it is mounted, so that it is drawn again when another
// part of the page changes the job.
//
// Saved jobs are read by Open, which screens call when they are mounted and
// never before: the page prepared on the server and the first one drawn in the
// browser then show the same.
package session

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// Session is one open page. It is used on go-app's UI goroutine only.
type Session struct {
	engine *diagnosis.Engine
	box    store.Box
	now    func() time.Time

	store    *store.Store // nil until Open
	settings store.Settings
	kept     map[string]unit.OwnLimit // the user's own values, those of other versions among them
	notices  []store.Notice
	watchers []app.Composer
	answer   *diagnosis.Answer // with what comes next
	standing *diagnosis.Answer // without
	open     []diagnosis.Suggestion
	opened   *diagnosis.Answer // that open belongs to
	failure  error
	said     string
	undo     *undo
	index    *complaint.Index
	search   search
}

// undo takes the last change back.
type undo struct {
	text string
	back func()
}

// New makes a session that keeps its jobs in box. Nothing is read before Open.
func New(engine *diagnosis.Engine, box store.Box, now func() time.Time) *Session {
	return &Session{engine: engine, box: box, now: now}
}

// Open reads the saved jobs. A second call does nothing.
func (s *Session) Open() {
	if s.store != nil {
		return
	}
	var err error
	s.store, err = store.Open(s.box, s.now)
	if err != nil {
		// The notice says so; from here on the jobs live in the page's memory.
		s.notices = s.store.Notices()
		s.box = store.Memory{}
		s.store, _ = store.Open(s.box, s.now)
	}
	s.settings = s.store.Settings()
	s.kept = s.store.Values()
	s.engine.Own, s.engine.Units = s.sound(s.kept), s.settings.Units
	s.notices = append(s.notices, s.store.Notices()...)
	s.forget()
	s.notify()
}

// Catalogue is what the trade knows.
func (s *Session) Catalogue() *catalogue.Catalogue { return s.engine.Catalogue }

// Book is the acceptance values.
func (s *Session) Book() *unit.Book { return s.engine.Book }

// Watch has c drawn again at each change for as long as it is mounted.
func (s *Session) Watch(c app.Composer) {
	s.watchers = slices.DeleteFunc(s.watchers, func(w app.Composer) bool { return w == c || !w.Mounted() })
	s.watchers = append(s.watchers, c)
}

func (s *Session) notify() {
	for _, w := range s.watchers {
		if w.Mounted() {
			w.Update()
		}
	}
}

// Job is the job at hand; nil when there is none.
func (s *Session) Job() *store.Job {
	if s.store == nil {
		return nil
	}
	return s.store.Current()
}

// Jobs lists the saved jobs, the most recently changed first.
func (s *Session) Jobs() []*store.Job {
	if s.store == nil {
		return nil
	}
	return s.store.Jobs()
}

// Case is the case of the job at hand, or the one a new job begins with.
func (s *Session) Case() diagnosis.Case {
	if j := s.Job(); j != nil {
		return j.Case
	}
	return store.NewCase()
}

// Settled reports whether the user has said which version and build it is.
func (s *Session) Settled() bool {
	j := s.Job()
	return j != nil && j.Settled
}

// WholeSheet is the unit sheet of all versions and builds.
func (s *Session) WholeSheet() unit.Sheet {
	return unit.Sheet{Book: s.Book(), Own: s.engine.Own, Units: s.Units()}
}

// Sheet is the unit sheet for the truck at hand. Version and build stay open
// until the user has said them, so that figures of all versions are shown.
func (s *Session) Sheet() unit.Sheet {
	sheet := s.WholeSheet()
	if s.Settled() {
		sheet.Version, sheet.Build = s.Job().Case.Version, s.Job().Case.Build
	}
	return sheet
}

// Answer is what the engine says about the job at hand. The error is for a case
// that the engine can't take, such as one kept from an older catalogue.
func (s *Session) Answer() (*diagnosis.Answer, error) {
	if s.answer == nil && s.failure == nil {
		s.answer, s.failure = s.work(s.engine.Answer)
	}
	return s.answer, s.failure
}

// Answered reports whether Answer has been worked out already, so that asking
// for it takes no time.
func (s *Session) Answered() bool { return s.answer != nil || s.failure != nil }

// Standing is the answer without what comes next: ranking, verdicts and what is
// explained. It takes a small part of the answer's time, so that a verdict shows
// at once.
func (s *Session) Standing() (*diagnosis.Answer, error) {
	if s.answer != nil || s.failure != nil {
		return s.answer, s.failure
	}
	if s.standing == nil {
		s.standing, s.failure = s.work(s.engine.Rank)
	}
	return s.standing, s.failure
}

// forget drops what was worked out: the job at hand is another, or has changed.
func (s *Session) forget() {
	s.answer, s.standing, s.failure = nil, nil, nil
}

// work asks the engine about the job at hand and turns its panic into an error,
// so that a fault in one computation leaves the rest of the page alive.
func (s *Session) work(ask func(diagnosis.Case) (*diagnosis.Answer, error)) (a *diagnosis.Answer, err error) {
	defer func() {
		if r := recover(); r != nil {
			a, err = nil, fmt.Errorf("session: the engine stopped: %v", r)
		}
	}()
	return ask(s.Case())
}

// WhileOpen is what is worth doing before the present level is closed. It takes
// longer than the answer and is kept with it.
func (s *Session) WhileOpen(a *diagnosis.Answer) []diagnosis.Suggestion {
	if s.opened != a {
		s.opened, s.open = a, nil
		func() {
			defer func() {
				if recover() != nil {
					s.open = nil // the answer itself stands without it
				}
			}()
			s.open = s.engine.WhileOpen(a)
		}()
	}
	return s.open
}

// Looked reports whether WhileOpen has its list for an answer already.
func (s *Session) Looked(a *diagnosis.Answer) bool { return s.opened == a }

// Reasons is how far each finding moved a fault, the strongest first.
func (s *Session) Reasons(fault string) (reasons []diagnosis.Reason, err error) {
	defer func() {
		if r := recover(); r != nil {
			reasons, err = nil, fmt.Errorf("session: the engine stopped: %v", r)
		}
	}()
	each, err := s.engine.Reasons(s.Case(), fault)
	if err != nil {
		return nil, err
	}
	return each[0], nil
}

// Judge says what an entry means on the truck at hand, without entering it.
func (s *Session) Judge(n diagnosis.Entry) (judged diagnosis.Judgement) {
	defer func() {
		if r := recover(); r != nil {
			judged = diagnosis.Judgement{Problem: "This reading could not be judged.", Field: "reading"}
		}
	}()
	c := s.Case()
	return s.engine.Judge(&c, &n)
}

// Understand looks for symptoms in a customer's words.
func (s *Session) Understand(words string) (u complaint.Understanding) {
	defer func() {
		if recover() != nil {
			u = complaint.Understanding{Unmatched: []complaint.Part{{Words: words}}}
		}
	}()
	return s.words().Resolve(words)
}

// Suggest ranks the symptoms for a search that is still being typed.
func (s *Session) Suggest(typed string, limit int) (out []complaint.Suggestion) {
	defer func() {
		if recover() != nil {
			out = nil
		}
	}()
	return s.words().Suggest(typed, limit)
}

// words is the index of what people say, built when it is first needed.
func (s *Session) words() *complaint.Index {
	if s.index == nil {
		s.index = complaint.New(s.Catalogue())
	}
	return s.index
}

// Enter adds an observation to the job at hand. A truck that a check was done on
// is at the nearest of that check's levels, so the level follows.
func (s *Session) Enter(done string, n diagnosis.Entry) { s.enter(done, true, n) }

// EnterAll adds several observations that were made together.
func (s *Session) EnterAll(done string, entries []diagnosis.Entry) { s.enter(done, true, entries...) }

// Suppose ranks the job at hand as if further observations had been entered.
func (s *Session) Suppose(entries []diagnosis.Entry) (*diagnosis.Answer, error) {
	c := s.Case()
	c.Unfit(entries...)
	c.Entries = append(slices.Clip(c.Entries), entries...)
	return s.engine.Rank(c)
}

// enter adds observations; here says that they were made on the truck as it
// stands, so that its level follows.
func (s *Session) enter(done string, here bool, entries ...diagnosis.Entry) {
	at := s.now().UTC()
	s.remember(entries)
	s.Change(done, func(j *store.Job) {
		for len(j.Made) < len(j.Case.Entries) {
			j.Made = append(j.Made, store.Made{})
		}
		unfit(j, entries)
		for _, n := range entries {
			j.Case.Entries = append(j.Case.Entries, n)
			j.Made = append(j.Made, store.Made{At: at, Meter: s.settings.Meter})
			if check := s.Catalogue().Check(n.Check); here && check != nil {
				j.Case.Level = s.Catalogue().Where(check, j.Case.Level)
			}
		}
	})
	s.Keep() // the entry stands on the page with a button to remove it
}

// Withdraw takes the k-th entry out of the job at hand.
func (s *Session) Withdraw(done string, k int) {
	s.Change(done, func(j *store.Job) {
		if k < len(j.Case.Entries) {
			j.Case.Entries = slices.Delete(j.Case.Entries, k, k+1)
		}
		if k < len(j.Made) {
			j.Made = slices.Delete(j.Made, k, k+1)
		}
	})
}

// Write changes what is free text in the job at hand, and starts a job when
// there is none. The ranking and the offered undo stay as they are.
func (s *Session) Write(f func(*store.Job)) {
	j := s.begin()
	f(j)
	s.save(j)
	s.notify()
}

// Change changes the job at hand, and starts one when there is none. If done is
// set, it says what was done ("Removed: no reverse") and the change is offered
// to be taken back.
func (s *Session) Change(done string, f func(*store.Job)) {
	j := s.begin()
	before := j.Clone()
	top := s.top()

	f(j)
	s.undo = nil
	if done != "" {
		id := j.ID
		s.undo = &undo{done, func() {
			if j := s.store.Job(id); j != nil {
				// What was typed since, such as a note, stays.
				j.Case, j.Made, j.FittedMade, j.Settled, j.Archived = before.Case, before.Made, before.FittedMade, before.Settled, before.Archived
				j.Refusals, j.Decided, j.Proof, j.Waived, j.Closed = before.Refusals, before.Decided, before.Proof, before.Waived, before.Closed
				s.save(j)
			}
		}}
	}
	s.changed(j)
	s.said = announcement(done, top, s.top())
	s.notify()
}

func (s *Session) begin() *store.Job {
	s.Open()
	if j := s.store.Current(); j != nil {
		return j
	}
	j, err := s.store.New()
	s.complain(err)
	return j
}

func (s *Session) changed(j *store.Job) {
	s.forget()
	s.save(j)
}

func (s *Session) save(j *store.Job) { s.complain(s.store.Save(j)) }

// Keys of the notices that the session makes itself.
const (
	unsaved = "unsaved"
	copied  = "copied"
)

// complain turns an error of the store into a notice, and a success into its end.
func (s *Session) complain(err error) {
	s.Dismiss(unsaved)
	switch {
	case err == nil:
	case errors.Is(err, store.ErrCopied):
		s.notices = append(s.notices, store.Notice{Key: copied, Text: "This job was changed in another tab as well. What you do here goes on in a copy of it; both are in the list of jobs."})
	default:
		s.notices = append(s.notices, store.Notice{Key: unsaved, Text: "The last change is not saved: the browser refused it, most likely because its storage is full. It is kept for as long as this page is open. Delete old jobs to make room."})
	}
}

// Notices is what the user has to be told, oldest first.
func (s *Session) Notices() []store.Notice { return s.notices }

// Dismiss takes the notices of a key away.
func (s *Session) Dismiss(key string) {
	s.notices = slices.DeleteFunc(slices.Clone(s.notices), func(n store.Notice) bool { return n.Key == key })
}

// Start begins a new job and makes it the one at hand.
func (s *Session) Start() *store.Job {
	s.Open()
	j, err := s.store.New()
	s.complain(err)
	s.switched("Started a new job.")
	return j
}

// Take makes a saved job the one at hand.
func (s *Session) Take(id string) {
	s.Open()
	s.complain(s.store.Open(id))
	if j := s.Job(); j != nil {
		s.switched("Opened " + j.Name + ".")
	}
}

// Leave puts the job at hand aside: it stays saved, and the next entry starts
// another one.
func (s *Session) Leave() {
	s.Open()
	s.complain(s.store.Leave())
	s.switched("No job is open.")
}

// Copy makes a new job with the truck, complaint and case of a saved one.
func (s *Session) Copy(id string) {
	s.Open()
	from := s.store.Job(id)
	if from == nil {
		return
	}
	j, err := s.store.New()
	s.complain(err)
	key, created := j.ID, j.Created
	*j = *from.Clone()
	j.ID, j.Created, j.Revision = key, created, 0
	j.Name = from.Name + " (copy)"
	j.Archived = false
	s.save(j)
	s.switched("Copied " + from.Name + ".")
}

// Delete removes a saved job and offers to bring it back.
func (s *Session) Delete(id string) {
	s.Open()
	current := s.Job() != nil && s.Job().ID == id
	j, err := s.store.Remove(id)
	if err != nil {
		s.complain(err)
		s.notify()
		return
	}
	done := "Deleted: " + j.Name
	s.switched(done)
	s.undo = &undo{done, func() {
		s.complain(s.store.Restore(j))
		if current {
			s.complain(s.store.Open(j.ID))
		}
	}}
	s.notify()
}

func (s *Session) switched(say string) {
	s.forget()
	s.undo = nil
	s.said = say
	s.notify()
}

// Undoable says what Undo would take back; empty when there is nothing.
func (s *Session) Undoable() string {
	if s.undo == nil {
		return ""
	}
	return s.undo.text
}

// Undo takes the last change back.
func (s *Session) Undo() {
	if s.undo == nil {
		return
	}
	u := s.undo
	s.undo = nil
	u.back()
	s.forget()
	s.said = "Taken back."
	s.notify()
}

// Keep lets the last change stand without the offer to undo it.
func (s *Session) Keep() {
	s.undo = nil
	s.notify()
}

// Say has a sentence read out by a screen reader when it next pauses.
func (s *Session) Say(sentence string) {
	s.said = sentence
	s.notify()
}

// Said is the sentence to be read out.
func (s *Session) Said() string { return s.said }
