package hear

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
)

// envelope are the fields of a request that carry it, not what was said.
var envelope = map[string]bool{"origin": true, "request_id": true, "validate_only": true, "entry": true, "page_size": true, "page_token": true, "question": true}

// Request makes the typed request of an intent. Fields that the kind does not
// have are left out.
func Request(in Intent) (proto.Message, error) {
	t, err := protoregistry.GlobalTypes.FindMessageByName(protoreflect.FullName("bayword.v1." + in.Kind + "Request"))
	if err != nil {
		return nil, fmt.Errorf("no request for kind %q: %w", in.Kind, err)
	}
	m := t.New()
	fields := m.Descriptor().Fields()
	for name, value := range in.Fields {
		fd := fields.ByName(protoreflect.Name(name))
		if fd == nil || envelope[name] {
			continue
		}
		if err := setField(m, fd, value); err != nil {
			return nil, fmt.Errorf("%s.%s: %w", in.Kind, name, err)
		}
	}
	if fd := fields.ByName("entry"); fd != nil && in.Entry > 0 {
		m.Set(fd, protoreflect.ValueOfUint64(in.Entry))
	}
	return m.Interface(), nil
}

func setField(m protoreflect.Message, fd protoreflect.FieldDescriptor, value any) error {
	if fd.IsList() {
		list := m.Mutable(fd).List()
		switch items := value.(type) {
		case []string:
			for _, s := range items {
				list.Append(protoreflect.ValueOfString(s))
			}
		case []float64:
			for _, f := range items {
				if fd.Kind() == protoreflect.Uint32Kind {
					list.Append(protoreflect.ValueOfUint32(uint32(max(0, min(f, math.MaxUint32)))))
				} else {
					list.Append(protoreflect.ValueOfFloat64(f))
				}
			}
		default:
			return fmt.Errorf("list from %T", value)
		}
		return nil
	}
	switch fd.Kind() {
	case protoreflect.StringKind:
		if s, ok := value.(string); ok {
			m.Set(fd, protoreflect.ValueOfString(s))
			return nil
		}
	case protoreflect.BoolKind:
		if b, ok := value.(bool); ok {
			m.Set(fd, protoreflect.ValueOfBool(b))
			return nil
		}
	case protoreflect.DoubleKind:
		if f, ok := number(value); ok {
			m.Set(fd, protoreflect.ValueOfFloat64(f))
			return nil
		}
	case protoreflect.Uint32Kind:
		if f, ok := number(value); ok && f >= 0 && f <= math.MaxUint32 {
			m.Set(fd, protoreflect.ValueOfUint32(uint32(f)))
			return nil
		}
	case protoreflect.EnumKind:
		if s, ok := value.(string); ok {
			if ev := fd.Enum().Values().ByName(enumName(fd.Enum(), s)); ev != nil {
				m.Set(fd, protoreflect.ValueOfEnum(ev.Number()))
				return nil
			}
		}
	}
	return fmt.Errorf("cannot hold %v (%T)", value, value)
}

// enumName is the name of a value as proto style writes it: LUBRICATION_OILED.
func enumName(e protoreflect.EnumDescriptor, value string) protoreflect.Name {
	return protoreflect.Name(enumPrefix(e) + strings.ToUpper(value))
}

func enumPrefix(e protoreflect.EnumDescriptor) string {
	return strings.TrimSuffix(string(e.Values().Get(0).Name()), "UNSPECIFIED")
}

// FieldsOf returns what a request says, by the contract's field names, without
// what carries it: the inverse of Request.
func FieldsOf(request proto.Message) Fields {
	out := Fields{}
	m := request.ProtoReflect()
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		name := string(fd.Name())
		if envelope[name] {
			return true
		}
		if fd.IsList() {
			list := v.List()
			items := make([]any, 0, list.Len())
			for i := range list.Len() {
				items = append(items, list.Get(i).Interface())
			}
			out[name] = items
			return true
		}
		if fd.Kind() == protoreflect.EnumKind {
			if ev := fd.Enum().Values().ByNumber(v.Enum()); ev != nil {
				out[name] = strings.ToLower(strings.TrimPrefix(string(ev.Name()), enumPrefix(fd.Enum())))
			}
			return true
		}
		out[name] = v.Interface()
		return true
	})
	return out
}

// UnmarshalJSON restores the types that JSON does not keep.
func (f *Fields) UnmarshalJSON(data []byte) error {
	raw := map[string]any{}
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	for name, value := range raw {
		items, ok := value.([]any)
		if !ok {
			continue
		}
		var texts []string
		var numbers []float64
		for _, item := range items {
			switch x := item.(type) {
			case string:
				texts = append(texts, x)
			case float64:
				numbers = append(numbers, x)
			}
		}
		if len(numbers) > 0 {
			raw[name] = numbers
		} else {
			raw[name] = texts
		}
	}
	*f = raw
	return nil
}
