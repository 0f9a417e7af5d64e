package main

import (
	"context"
	"sync"

	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"
)

// directory maps the chat platform's ids to the shop's, by the shop's vocabulary.
type directory struct {
	talk *talk.Talk

	mu    sync.Mutex
	names *pb.GetVocabularyResponse
}

// Refresh brings the names up to date.
func (d *directory) Refresh(ctx context.Context) error {
	_, names, err := d.talk.Vocabulary(ctx)
	if err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.names = names
	return nil
}

func (d *directory) known() *pb.GetVocabularyResponse {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.names
}

// Person gives the shop's id of a platform user. Only the user id counts: a
// display name can be anybody's.
func (d *directory) Person(userID, _ string) (string, bool) {
	for _, p := range d.known().GetPeople() {
		if p.GetChatUser() == userID && userID != "" {
			return p.GetId(), true
		}
	}
	return "", false
}

// Channel gives the shop's id of a platform channel, by its id or its name.
func (d *directory) Channel(channelID, name string) (string, bool) {
	names := d.known()
	for _, c := range names.GetChannels() {
		if c.GetChatChannel() == channelID && channelID != "" {
			return c.GetId(), true
		}
	}
	for _, c := range names.GetChannels() {
		if c.GetId() == name && c.GetChatChannel() == "" {
			return c.GetId(), true
		}
	}
	return "", false
}

// ChatUser gives the platform user of a person of the shop.
func (d *directory) ChatUser(person string) (string, bool) {
	for _, p := range d.known().GetPeople() {
		if p.GetId() == person && p.GetChatUser() != "" {
			return p.GetChatUser(), true
		}
	}
	return "", false
}

// ChatChannel gives the platform channel of a channel of the shop, by its id or,
// where the shop has none on record, by the shop's own id as its name.
func (d *directory) ChatChannel(channel string) (id, name string, ok bool) {
	for _, c := range d.known().GetChannels() {
		if c.GetId() == channel {
			return c.GetChatChannel(), c.GetId(), true
		}
	}
	return "", "", false
}
