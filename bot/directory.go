package main

import (
	"context"
	"time"

	"bayword/internal/talk"
)

// directory maps the chat platform's ids to the shop's, by the shop's vocabulary.
type directory struct{ talk *talk.Talk }

// Person gives the shop's id of a platform user. Only the user id counts: a
// display name can be anybody's.
func (d directory) Person(userID, _ string) (string, bool) {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	_, names, err := d.talk.Vocabulary(ctx)
	if err != nil {
		return "", false
	}
	for _, p := range names.GetPeople() {
		if p.GetChatUser() == userID && userID != "" {
			return p.GetId(), true
		}
	}
	return "", false
}

// Channel gives the shop's id of a platform channel, by its id or its name.
func (d directory) Channel(channelID, name string) (string, bool) {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	_, names, err := d.talk.Vocabulary(ctx)
	if err != nil {
		return "", false
	}
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
