package say

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// domain is the ErrorInfo domain of the service's refusals.
const domain = "bayword"

// Refusal puts a failed call into words. It is true for a refusal: the service
// understood the request, says why it will not, and recorded nothing. It is
// false for a failure, whose words say honestly what is known of the record.
// Only codes, reason and metadata count; the error's text is never shown.
func Refusal(err error, names Names) (Reply, bool) {
	if err == nil {
		return Reply{}, false
	}
	s := statusOf(err)
	for _, d := range s.Details() {
		info, ok := d.(*errdetails.ErrorInfo)
		if !ok || info.GetDomain() != domain {
			continue
		}
		reason := pb.RefusalReason(pb.RefusalReason_value["REFUSAL_REASON_"+info.GetReason()])
		if r, ok := refused(reason, info.GetMetadata(), names); ok {
			// A failing store is no decision about the request.
			return r, reason != pb.RefusalReason_REFUSAL_REASON_STORE_FAILED
		}
	}
	return failed(s.Code()), false
}

// statusOf takes a context's end for what it is; grpc maps it only when it is
// the error itself.
func statusOf(err error) *status.Status {
	if s, ok := status.FromError(err); ok {
		return s
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return status.New(codes.DeadlineExceeded, "")
	}
	return status.New(codes.Unknown, "")
}

// failed is for an error that is no refusal.
func failed(c codes.Code) Reply {
	switch c {
	case codes.InvalidArgument, codes.Unimplemented, codes.PermissionDenied, codes.Unauthenticated, codes.NotFound,
		codes.FailedPrecondition, codes.OutOfRange, codes.AlreadyExists:
		return text("That failed and nothing was recorded. Tell whoever looks after me if it keeps happening.")
	case codes.Unavailable, codes.DeadlineExceeded:
		return text("I could not reach the shop's records just now.", unknownOutcome)
	}
	return text("Something failed on my side.", unknownOutcome)
}

const unknownOutcome = "If that was something to record, it may or may not be recorded; say it again, it will not be doubled."

// refused has one case a reason, from its metadata alone. Keys that did not come
// are worked around.
func refused(reason pb.RefusalReason, meta map[string]string, n Names) (Reply, bool) {
	get := func(key string) string { return plain(meta[key]) }
	value := metaValue(meta["field"], meta["value"], n)
	switch reason {
	case pb.RefusalReason_REFUSAL_REASON_NOT_ALLOWED:
		return text(notAllowed(meta, n)), true
	case pb.RefusalReason_REFUSAL_REASON_UNKNOWN_PERSON:
		return text("I don't know you in this shop, so I can answer but not record. "+upper(n.lead())+" can have you added.", "Nothing recorded."), true
	case pb.RefusalReason_REFUSAL_REASON_MISSING_FIELD:
		return text("Nothing recorded yet: " + question("", meta["field"]) + "?"), true
	case pb.RefusalReason_REFUSAL_REASON_OUT_OF_RANGE:
		return text(upper(fieldName(meta["field"]))+" "+value+" can't be right, so that is not recorded.", worksLine(meta["field"], meta["accepted"], n)), true
	case pb.RefusalReason_REFUSAL_REASON_UNKNOWN_NAME:
		return text(fmt.Sprintf("I don't know the %s «%s», so nothing is recorded.", fieldName(meta["field"]), get("value")), worksLine(meta["field"], meta["accepted"], n)), true
	case pb.RefusalReason_REFUSAL_REASON_NOT_ENOUGH_STOCK:
		return notEnough(meta, n), true
	case pb.RefusalReason_REFUSAL_REASON_ALREADY_EXISTS:
		return text(fmt.Sprintf("The %s «%s» is taken already, so nothing is recorded. Give it another one.", fieldName(meta["field"]), get("value"))), true
	case pb.RefusalReason_REFUSAL_REASON_NOT_FOUND:
		if meta["field"] == "panel" {
			return text(fmt.Sprintf("There is nothing on record at the %s, so nothing is changed.", value)), true
		}
		if due, coming := meta["due"]; coming && meta["field"] == "part" {
			return text(notHere(value, due, n)), true
		}
		return text(fmt.Sprintf("There is no %s %s on record, so nothing is changed.", fieldName(meta["field"]), value)), true
	case pb.RefusalReason_REFUSAL_REASON_ALREADY_DONE:
		return text(alreadyDone(n.days(get("what")))), true
	case pb.RefusalReason_REFUSAL_REASON_AMBIGUOUS:
		return ambiguous(meta), true
	case pb.RefusalReason_REFUSAL_REASON_NOTHING_TO_CHANGE:
		return text(sentence(orElse(get("what"), "nothing of yours stands on record")) + " Nothing is changed."), true
	case pb.RefusalReason_REFUSAL_REASON_CANNOT_AMEND:
		return text(fmt.Sprintf("There is no %s in that record (%s), so nothing is changed.", fieldName(meta["field"]), orElse(get("what"), "the last one"))), true
	case pb.RefusalReason_REFUSAL_REASON_SAFETY_CRITICAL:
		return text(upper(orElse(get("fastener"), "that"))+": safety-critical, so I don't work a torque out. Take it from the maker's manual.",
			fmt.Sprintf("Once %s has set the book value, I can look it up.", n.lead())), true
	case pb.RefusalReason_REFUSAL_REASON_REQUEST_REUSED:
		return text("That came to me twice with different words, so the second is not recorded. Say it again as a new message."), true
	case pb.RefusalReason_REFUSAL_REASON_DISK_FULL:
		return text("The disk with the shop's records is nearly full"+freeBytes(meta["free_bytes"])+", so nothing is recorded. I can still answer.", "Whoever looks after me has to make room."), true
	case pb.RefusalReason_REFUSAL_REASON_IN_USE:
		return text(fmt.Sprintf("Not taken back: other records (%s) hang on %s. Take those back first.", orElse(get("records"), "some"), orElse(get("what"), "it"))), true
	case pb.RefusalReason_REFUSAL_REASON_STORE_FAILED:
		return text("The shop's records failed just now and need a restart.", unknownOutcome), true
	}
	return Reply{}, false
}

// alreadyDone is «Already so: task 2 replace the left sill is done. Nothing more
// recorded.»
func alreadyDone(what string) string {
	if what == "" {
		return "That is done already. Nothing more recorded."
	}
	if what[0] >= '0' && what[0] <= '9' { // tasks go by number and title
		what = "task " + what
	}
	return "Already so: " + stopped(what) + " Nothing more recorded."
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// notHere is «Rear wing panel, left, is not here yet (due Thu 12 Mar), so nothing
// is recorded.»
func notHere(part, due string, n Names) string {
	if due != "" {
		due = " (due " + n.day(due) + ")"
	}
	if strings.Contains(part, ", ") {
		part += ","
	}
	return upper(part) + " is not here yet" + due + ", so nothing is recorded."
}

// notAllowed says who may.
func notAllowed(meta map[string]string, n Names) string {
	role, who := plain(meta["role"]), n.person(meta["person"])
	what := orElse(plain(meta["what"]), "do that")
	if role != "" {
		who = spaced(who, "("+role+")")
	}
	line := fmt.Sprintf("Not recorded: %s may not %s.", orElse(who, "you"), what)
	switch needs := plain(meta["needs"]); needs {
	case "":
		return line
	case "lead":
		return line + " It needs " + n.lead() + "."
	default:
		return line + " It needs " + article(needs) + " or " + n.lead() + "."
	}
}

// article is «an apprentice», «a tradesperson», «the lead».
func article(role string) string {
	switch {
	case role == "":
		return ""
	case role == "lead":
		return "the lead"
	case strings.ContainsRune("aeiou", rune(role[0])):
		return "an " + role
	}
	return "a " + role
}

func notEnough(meta map[string]string, n Names) Reply {
	name := n.material(meta["material"])
	u := orElse(meta["unit"], n.Materials[meta["material"]].Unit)
	return text(fmt.Sprintf("There is only %s, not %s, so nothing is recorded.", counts(metaAmount(meta["accepted"], u), name), metaAmount(meta["value"], u)),
		"If the shelf says otherwise, count it first: «counted the "+name+", … left».")
}

// metaAmount prints an amount from metadata; what is no number is shown as it is.
func metaAmount(s, u string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return plain(s)
	}
	return amount(v, u)
}

// metaValue prints a field's value from metadata with its unit and name.
func metaValue(field, s string, n Names) string {
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case err != nil && field == "job":
		return n.job(s)
	case err != nil && (field == "person" || field == "people" || field == "who"):
		return n.person(s)
	case err != nil && field == "material":
		return n.material(s)
	case err != nil:
		return n.days(plain(s))
	case field == "torque_nm":
		return newtonMetres(v)
	case field == "hours":
		return hours(v)
	case strings.HasSuffix(field, "_mm"):
		return unit.Format(v, unit.MM)
	}
	return figure(v)
}

// worksLine is «What works: heron, osmere, pilot, tern.»
func worksLine(field, accepted string, n Names) string {
	if accepted == "" {
		return ""
	}
	parts := strings.Split(n.days(accepted), ",")
	for i, p := range parts {
		p = strings.TrimSpace(p)
		if field == "material" || field == "person" || field == "people" || field == "who" {
			p = metaValue(field, p, n)
		}
		parts[i] = short(p)
	}
	more := len(parts) - 12
	line := strings.Join(parts[:min(12, len(parts))], ", ")
	if more > 0 {
		line += fmt.Sprintf(" … and %d more", more)
	}
	return "What works: " + line + "."
}

// ambiguous offers the records that fit, left before right, then by id.
func ambiguous(meta map[string]string) Reply {
	var choices []Choice
	for _, o := range strings.Split(meta["options"], ",") {
		if o = strings.TrimSpace(o); o != "" {
			choices = append(choices, Choice{Label: orElse(plain(meta["option."+o]), plain(o)), Say: o})
		}
	}
	slices.SortStableFunc(choices, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(sideRank(a), sideRank(b)), byID(a.Say, b.Say))
	})
	r := text("Which " + fieldName(meta["field"]) + among(choices) + "? Nothing is recorded yet.")
	r.Choices = offered(choices)
	return r
}

// sideRank puts left before right before what has no side, by value or label.
func sideRank(c Choice) int {
	for _, w := range strings.Fields(strings.ToLower(c.Say + " " + c.Label)) {
		switch strings.Trim(w, ",.:;()") {
		case "left":
			return 0
		case "right":
			return 1
		}
	}
	return 2
}

// byID compares numbers as numbers, all else as text.
func byID(a, b string) int {
	x, errX := strconv.ParseUint(a, 10, 64)
	y, errY := strconv.ParseUint(b, 10, 64)
	if errX == nil && errY == nil {
		return cmp.Compare(x, y)
	}
	return cmp.Compare(a, b)
}

func freeBytes(s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return ""
	}
	return fmt.Sprintf(" (%s MB left)", unit.Number(v/1e6))
}
