package service

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// Most characters of a text, and most values of a list.
const (
	maxOrigin = 4000 // of a message's text; the rest is cut off
	maxText   = 2000 // of a note
	maxName   = 200  // of anything else
	maxList   = 100
	maxPhotos = 10 // with one message; the rest is left out
)

// longTexts are the fields that people write freely in.
var longTexts = map[protoreflect.Name]bool{"text": true, "note": true}

// clean takes control characters out of a request's texts, and refuses one that is
// too long; a message's own text is cut instead, for it is only kept.
func clean(req proto.Message) error {
	if o, ok := req.(interface{ GetOrigin() *pb.Origin }); ok && o.GetOrigin() != nil {
		origin := o.GetOrigin()
		origin.Text = cut(printable(origin.Text), maxOrigin)
		for _, id := range []*string{&origin.Person, &origin.Channel, &origin.Message} {
			*id = cut(printable(*id), maxName)
		}
		if len(origin.Photos) > maxPhotos {
			origin.Photos = origin.Photos[:maxPhotos]
		}
		for _, p := range origin.Photos {
			p.Name = cut(printable(p.GetName()), maxName)
			if !isSHA256(p.GetSha256()) {
				p.Sha256 = ""
			}
		}
	}
	if w, ok := req.(interface{ GetRequestId() string }); ok && len(w.GetRequestId()) > ledger.MaxRequestID {
		return refusal(shop.OutOfRange, "field", "request_id", "value", cut(w.GetRequestId(), 50), "accepted", fmt.Sprintf("1 to %d bytes", ledger.MaxRequestID))
	}
	var err error
	m := req.ProtoReflect()
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case f.IsList():
			err = cleanList(f, v.List())
		case f.Kind() == protoreflect.EnumKind:
			err = knownEnum(f, v.Enum())
		case f.Kind() == protoreflect.StringKind:
			var text string
			if text, err = cleanText(f.Name(), v.String()); err == nil && text != v.String() {
				m.Set(f, protoreflect.ValueOfString(text))
			}
		}
		return err == nil
	})
	return err
}

// isSHA256 tells whether a text is a SHA-256 in lower-case hexadecimal.
func isSHA256(text string) bool {
	sum, err := hex.DecodeString(text)
	return err == nil && len(sum) == sha256.Size && text == strings.ToLower(text)
}

// knownEnum refuses a number that the enum has no name for.
func knownEnum(f protoreflect.FieldDescriptor, n protoreflect.EnumNumber) error {
	values := f.Enum().Values()
	if values.ByNumber(n) != nil {
		return nil
	}
	var names []string
	for i := range values.Len() {
		names = append(names, string(values.Get(i).Name()))
	}
	return refusal(shop.OutOfRange, "field", string(f.Name()), "value", fmt.Sprint(n), "accepted", strings.Join(names, ", "))
}

func cleanList(f protoreflect.FieldDescriptor, list protoreflect.List) error {
	if list.Len() > maxList {
		return refusal(shop.OutOfRange, "field", string(f.Name()), "value", fmt.Sprintf("%d values", list.Len()), "accepted", fmt.Sprintf("at most %d", maxList))
	}
	if f.Kind() != protoreflect.StringKind {
		return nil
	}
	for i := range list.Len() {
		text, err := cleanText(f.Name(), list.Get(i).String())
		if err != nil {
			return err
		}
		list.Set(i, protoreflect.ValueOfString(text))
	}
	return nil
}

func cleanText(field protoreflect.Name, text string) (string, error) {
	most := maxName
	if longTexts[field] {
		most = maxText
	}
	text = strings.TrimSpace(printable(text))
	if len(text) > most && utf8.RuneCountInString(text) > most {
		return "", refusal(shop.OutOfRange, "field", string(field), "value", cut(text, 50)+"…", "accepted", fmt.Sprintf("at most %d characters", most))
	}
	return text, nil
}

// printable drops what is no text: control characters but line ends and tabs, and
// bytes that are not UTF-8.
func printable(text string) string {
	if isPrintable(text) {
		return text
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
}

// isPrintable answers at once for plain text, which most is.
func isPrintable(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}
