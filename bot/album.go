package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"
)

// photosWait is how long photographs wait for what they show.
const photosWait = 5 * time.Minute

// shows are the kinds of record that a photograph which waits can be of: what can be
// seen on a vehicle or a part.
var shows = []string{
	"RecordFind", "CloseFind", "RecordGap", "RecordTorque", "RecordCoat", "RecordArrival", "FitPart", "ReturnPart", "FinishTask",
	"AddNote", "AddSnag", "CloseSnag", "MeetBrief", "ProposeExtra",
}

// album stands on both sides of a conversation: it holds the photographs that
// somebody sends without a word, or with words that the bot has to ask about, and
// lays them beside the next record that the same person makes in the same channel.
// In a channel it says nothing of it: a photograph alone is not for the bot.
type album struct {
	grpc.ClientConnInterface // to the service

	talk   *talk.Talk
	memory talk.Memory
	mu     sync.Mutex // of memory
}

func newAlbum(conn grpc.ClientConnInterface, memory talk.Memory) *album {
	a := &album{ClientConnInterface: conn, memory: memory}
	a.talk = talk.New(a, memory)
	return a
}

// waiting are the photographs of one person in one channel.
type waiting struct {
	At     time.Time `json:"at"` // of the last one
	Photos []shot    `json:"photos"`
	For    string    `json:"for,omitempty"`  // the message they went with last
	Used   bool      `json:"used,omitempty"` // and it made a record
}

type shot struct {
	Message string `json:"message"` // it came in
	Name    string `json:"name"`
	SHA256  string `json:"sha256,omitempty"`
}

// Handle implements surface.Handler.
func (a *album) Handle(ctx context.Context, m surface.Message) (*say.Reply, error) {
	if turn, ok, err := a.bare(ctx, m); ok || err != nil {
		return turn.Reply, err
	}
	reply, err := a.talk.Handle(ctx, m)
	if err != nil || reply == nil || len(shotsOf(m)) == 0 {
		return reply, err
	}
	_, err = a.Turn(ctx, m) // what became of it; it has no further effect
	return reply, err
}

// Turn carries out one message, as a talk does.
func (a *album) Turn(ctx context.Context, m surface.Message) (talk.Turn, error) {
	if turn, ok, err := a.bare(ctx, m); ok || err != nil {
		return turn, err
	}
	turn, err := a.talk.Turn(ctx, m)
	if shots := shotsOf(m); err == nil && m.Act == surface.Said && turn.Outcome == talk.Asked && len(shots) > 0 {
		err = a.hold(ctx, m, shots)
	}
	return turn, err
}

// bare takes a message that is photographs and no words; ok is false for others.
func (a *album) bare(ctx context.Context, m surface.Message) (turn talk.Turn, ok bool, err error) {
	if m.Act == surface.Deleted {
		return turn, false, a.drop(ctx, m)
	}
	shots := shotsOf(m)
	if m.Act != surface.Said || strings.TrimSpace(m.Text) != "" || len(shots) == 0 {
		return turn, false, nil
	}
	if err := a.hold(ctx, m, shots); err != nil {
		return turn, true, err
	}
	if m.Channel != surface.DirectChannel && !m.Mention {
		return talk.Turn{Outcome: talk.Silent}, true, nil
	}
	return talk.Turn{Outcome: talk.Unsure, Reply: &say.Reply{Text: heldText(shots)}}, true, nil
}

func heldText(shots []shot) string {
	photo, kept, goes := "Photo", "is kept", "it goes"
	if len(shots) > 1 {
		photo, kept, goes = fmt.Sprintf("%d photos", len(shots)), "are kept", "they go"
	}
	if slices.ContainsFunc(shots, func(s shot) bool { return s.SHA256 == "" }) {
		kept = "noted, but could not be kept"
	}
	return fmt.Sprintf("%s %s. Say within %.0f minutes what can be seen, such as «hole in the nearside sill, 120 by 40» or «note: …», and %s with that record.",
		photo, kept, photosWait.Minutes(), goes)
}

// shotsOf gives the photographs of a message; of one whose content the surface does
// not have the name.
func shotsOf(m surface.Message) []shot {
	var shots []shot
	for _, p := range m.Photos {
		shots = append(shots, shot{m.ID, p.Name, p.SHA256})
	}
	for _, name := range m.Files {
		known := slices.ContainsFunc(m.Photos, func(p surface.Photo) bool { return p.Name == name })
		if !known && slices.Contains([]string{".jpg", ".jpeg", ".png"}, strings.ToLower(path.Ext(name))) {
			shots = append(shots, shot{m.ID, name, ""})
		}
	}
	return shots
}

// hold keeps photographs for the next record, beside those that wait already.
func (a *album) hold(ctx context.Context, m surface.Message, shots []shot) error {
	return a.change(ctx, m.Channel, m.Person, func(w *waiting) bool {
		if slices.ContainsFunc(w.Photos, func(s shot) bool { return s.Message == m.ID }) {
			return false // the message came twice
		}
		if w.Used || m.At.Sub(w.At) > photosWait {
			w.Photos = nil
		}
		w.At, w.For, w.Used = m.At, "", false
		w.Photos = append(w.Photos, shots...)
		w.Photos = w.Photos[max(0, len(w.Photos)-surface.MaxPhotos):]
		return true
	})
}

// drop forgets the photographs of a message that was deleted, unless a record has
// them.
func (a *album) drop(ctx context.Context, m surface.Message) error {
	return a.change(ctx, m.Channel, m.Person, func(w *waiting) bool {
		n := len(w.Photos)
		if !w.Used {
			w.Photos = slices.DeleteFunc(w.Photos, func(s shot) bool { return s.Message == m.Target })
		}
		return len(w.Photos) < n
	})
}

// Invoke lays photographs that wait beside a record. A message handed in again has
// the same ones again, or it would be another request.
func (a *album) Invoke(ctx context.Context, method string, args, reply any, opts ...grpc.CallOption) error {
	req, ok := args.(interface {
		proto.Message
		GetOrigin() *pb.Origin
		GetValidateOnly() bool
	})
	if !ok || req.GetValidateOnly() || len(req.GetOrigin().GetPhotos()) > 0 || !slices.Contains(shows, path.Base(method)) {
		return a.ClientConnInterface.Invoke(ctx, method, args, reply, opts...)
	}
	o := req.GetOrigin()
	var photos []*pb.Photo
	err := a.change(ctx, o.GetChannel(), o.GetPerson(), func(w *waiting) bool {
		since := o.GetSaidAt().AsTime().Sub(w.At)
		again := w.For == o.GetMessage()
		if !again && (w.Used || since < 0 || since > photosWait) {
			return false
		}
		for _, s := range w.Photos {
			photos = append(photos, &pb.Photo{Name: s.Name, Sha256: s.SHA256})
		}
		w.For = o.GetMessage()
		return !again && len(photos) > 0
	})
	if err != nil {
		return err
	}
	if len(photos) == 0 {
		return a.ClientConnInterface.Invoke(ctx, method, args, reply, opts...)
	}
	with, _ := proto.Clone(req).(interface{ GetOrigin() *pb.Origin })
	with.GetOrigin().Photos = photos
	if err := a.ClientConnInterface.Invoke(ctx, method, with, reply, opts...); err != nil {
		return err
	}
	return a.change(ctx, o.GetChannel(), o.GetPerson(), func(w *waiting) bool {
		was := w.Used
		w.Used = true
		return !was
	})
}

// change reads what waits and keeps it again when fn says that it has changed.
func (a *album) change(ctx context.Context, channel, person string, fn func(*waiting) bool) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	key := "message/photos/" + channel + "/" + person
	w := &waiting{}
	stored, ok, err := a.memory.Load(ctx, key)
	if err == nil && ok {
		err = json.Unmarshal(stored, w)
	}
	if err != nil {
		return fmt.Errorf("the photographs that wait: %w", err)
	}
	if !fn(w) {
		return nil
	}
	if stored, err = json.Marshal(w); err != nil {
		return err
	}
	return a.memory.Save(ctx, key, stored)
}
