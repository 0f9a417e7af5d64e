// Package internal holds everything behind the two commands. A message goes
// down this list and its answer comes up again:
//
//	unit        quantities by symbol: parse, convert, print
//	calc/…      engineering, pure: one package a subject, each formula beside its source
//	shop        the shop's state and rules, pure: events are folded, requests decided
//	shopfile    reads a shop file into the shop's events
//	ledger      the append-only record: entries, chain, one writer, the Store interface
//	ledger/badger, ledger/storetest   the store on disk; the suite that every store passes
//	service     one file per RPC group: clean, decide, append, answer
//	hear        message text to typed requests: one file a kind
//	say         response or refusal to a plain reply: one file a kind
//	talk        hear, ask the service, say: context, questions, corrections
//	surface/…   the terminal and the chat platform
//	handover    the record of a job as one folder: HTML, PDF, pictures
//	inbox       the bot's own durable inbox and outbox
//	photo       photographs in a folder, named by their content
//
// Where a question is answered and where its numbers come from:
//
//	how tight by the book     shop (torque.go)      the shop's own references, with who set them
//	how tight by computation  calc/fastener         VDI 2230-1 (2003 and later), ISO 898-1, ISO 3506-1, SAE J429
//	which thread              calc/fastener         ISO 68-1, ISO 261, ISO 724, ASME B1.1, BS 84, BS 93
//	what to set a wrench to   calc/wrench           moments at an extension; ISO 6789 for the wrench's error
//	how to move a panel       calc/fit              a linear programme over the shop's readings and targets
//	which cable and fuse      calc/wiring           IEC 60228, 33 CFR 183.425; «common practice» where marked
//	revs and road speed       calc/gearing          tyre codes, rolling circumference
//	paint in this air         calc/climate          Magnus formula, Sonntag 1990
//	mixes, coats, windows     calc/coating          the product's own sheet; Directive 2004/42/EC for VOC
//	days left, what to order  calc/reorder          reorder point z·σ·√L from the shop's own use
//	wire, gas, plug welds     calc/metal            handbook rates
//	patch or panel            calc/repair           «common practice» rates, updated from the shop's own closed work
//	when it will be done      calc/forecast         PERT and critical path as published; seeded simulation
//	how much in another unit  unit                  NIST SP 811
//	what gap                  shop (gap.go)         the shop's own references
//	how much is left          shop (stock.go)       the ledger: opening count, movements, counts
//	how many hours            shop (hours.go)       the ledger, the imported estimate, agreed extras
//	what is left to do        shop (remaining.go)   agreed hours less what is done, open tasks beside the rest
//	what comes next           shop (hold.go)        the plan: what is done first, which part is here
//	where the money stands    shop (money.go)       hours at the shop's rate, agreed extras, parts
//
// Which package may import which, and why, is held by rules_test.go.
package internal
