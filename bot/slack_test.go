package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/surface/slack/slackfake"
	"bayword/testdata/demo"
)

// platformShop is the demo shop whose people have an id on the chat platform.
func platformShop() []byte {
	shop := bytes.Replace(demo.ShopYAML, []byte("{id: idris,  name: Idris,  role: tradesperson"), []byte("{id: idris,  name: Idris,  chat: U0IDRIS, role: tradesperson"), 1)
	return bytes.Replace(shop, []byte("{id: jonah,  name: Jonah,  role: apprentice"), []byte("{id: jonah,  name: Jonah,  chat: U0JONAH, role: apprentice"), 1)
}

// TestOnTheChatPlatform carries messages from the platform through the real bot
// and the real service and back, over a restart of the bot.
func TestOnTheChatPlatform(t *testing.T) {
	t.Parallel()
	fake := slackfake.New(time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC))
	t.Cleanup(fake.Close)
	fake.Channel("C0BAY2", "bay-2")
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", platformShop(), fake.Now)
	require.NoError(t, err)
	t.Cleanup(stop)
	box := t.TempDir()
	serve := func() (end func()) {
		ctx, cancel := context.WithCancel(t.Context())
		done := make(chan error, 1)
		go func() {
			done <- serveSlack(ctx, options{botToken: slackfake.BotToken, appToken: slackfake.AppToken, apiURL: fake.URL, inbox: box}, conn)
		}()
		return func() { cancel(); assert.NoError(t, <-done) }
	}
	// answered waits for the bot's reply in the thread of a message.
	answered := func(ts, part string) {
		t.Helper()
		require.Eventually(t, func() bool {
			for _, p := range fake.Posts("C0BAY2") {
				if p.Thread == ts && strings.Contains(p.Text, part) {
					return true
				}
			}
			return false
		}, 20*time.Second, 20*time.Millisecond, "no reply with %q", part)
	}

	end := serve()
	asked := fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0IDRIS", Text: "there's a hole in the inner sill, 55 by 25"})
	answered(asked, "which side")
	end()

	end = serve() // the question waits over a restart
	defer func() { end() }()
	fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0IDRIS", Text: "left", Thread: asked})
	answered(asked, "Find 5 on the heron")
	used := fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0IDRIS", Text: "used two more tubes of the seam sealer"})
	answered(used, "5 left")
	fake.Edit("C0BAY2", used, "used three more tubes of the seam sealer")
	answered(used, "4 left")
	refused := fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0JONAH", Text: "did the caliper bolts to 77 just now"})
	answered(refused, "may not sign off")
	stranger := fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0OTHER", Text: "used 1 tube of seam sealer"})
	answered(stranger, "I don't know you")
	stock := fake.Say(slackfake.Said{Channel: "C0BAY2", User: "U0OTHER", Text: "how much seam sealer is there"})
	answered(stock, "4 seam sealer")
	assert.Empty(t, fake.Violations())
}
