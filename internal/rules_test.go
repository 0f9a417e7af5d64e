package internal

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rule says what the packages that match may import of this module, and why.
type rule struct {
	from  string // a regular expression over the package's path below the module
	may   string // a regular expression over what it may import of the module
	never string // other modules it must not import, as a regular expression
	why   string
}

const std = `^$`

var rules = []rule{
	{`^proto/`, `^proto/`, ``, "generated code stands alone so that other tools can import it"},
	{`^internal/unit$`, std, `.`, "everything stands on the units; they stand on nothing"},
	{`^internal/calc/published$`, std, `grpc|badger|slack|protobuf`, "the published values know nothing of what they check"},
	{`^internal/calc/repair$`, `^internal/(unit|calc/metal)$`, `grpc|badger|slack|protobuf`, "weighing a repair counts wire, gas and plug welds as any other weld does"},
	{`^internal/calc/`, `^internal/unit$`, `grpc|badger|slack|protobuf`, "a calculation can be read, tested and reused without the rest"},
	{`^internal/ledger$`, std, `badger|grpc|slack`, "the record knows nothing of what is recorded"},
	{`^internal/ledger/(badger|storetest)$`, `^internal/ledger(/storetest)?$`, `grpc|slack`, "a store keeps entries and nothing else"},
	{`^internal/shop$`, `^internal/(calc/|unit$)`, `grpc|protobuf|badger|slack`, "rules are pure: no I/O, no API, no clock"},
	{`^internal/shopfile$`, `^internal/(shop|unit|calc/.*)$`, `grpc|protobuf|badger|slack`, "a file becomes the shop's events and touches nothing else"},
	{`^internal/service$`, `^(internal/(shop|shopfile|ledger|unit|calc/.*)|proto/.*)$`, `slack`, "the service is the only place where the API meets the shop"},
	{`^internal/hear(/words)?$`, `^(internal/(unit|say|hear/words)|proto/.*)$`, `badger|slack`, "the bot asks, it does not decide: hear knows text, not the shop's rules"},
	{`^internal/say/picture$`, `^(internal/unit|proto/.*)$`, `badger|slack`, "a picture is drawn from an answer, of nothing else"},
	{`^internal/say$`, `^(internal/unit|internal/say/picture|proto/.*)$`, `badger|slack`, "say renders responses; it decides nothing"},
	{`^internal/surface$`, `^internal/say$`, `badger|grpc|slack`, "a surface's shapes are neutral"},
	{`^internal/surface/console$`, `^internal/(surface|say)$`, `badger|grpc|slack`, "a terminal needs no chat platform"},
	{`^internal/surface/slack`, `^internal/(surface|say|inbox|surface/slack.*)$`, `badger`, "the platform's ways stay in one place"},
	{`^internal/photo$`, std, `.`, "photographs are files by their content, and nothing else"},
	{`^internal/handover$`, `^(internal/(unit|say/picture)|proto/.*)$`, `badger|slack`, "a folder is made of the record that it is given"},
	{`^internal/inbox$`, `^internal/(surface|say)$`, `grpc|slack`, "the inbox keeps messages, whoever sent them"},
	{`^internal/talk$`, `^(internal/(hear|say|surface)|proto/.*)$`, `badger|slack`, "the bot asks, it does not decide"},
	{`^server$`, `^(internal/(service|shop|shopfile|ledger|ledger/badger|photo)|testdata/demo|proto/.*)$`, `slack`, "the daemon has no chat"},
	{`^bot$`, `^(internal/.*|testdata/demo|proto/.*)$`, `badger/v4`, "the embedded server is wired in the bot's main alone"},
	{`^internal$`, std, ``, "the tour imports nothing"},
	{`^testdata/demo$`, std, `.`, "data only"},
}

// TestImports holds the direction of imports. Tests may look further.
func TestImports(t *testing.T) {
	t.Parallel()
	files := token.NewFileSet()
	seen := map[string]bool{}
	for _, path := range goFiles(t) {
		dir := filepath.ToSlash(filepath.Dir(path))
		var r *rule
		for i := range rules {
			if regexp.MustCompile(rules[i].from).MatchString(dir) {
				r = &rules[i]
				break
			}
		}
		if !assert.NotNil(t, r, "%s has no rule: add it with its reason", dir) {
			continue
		}
		seen[r.from] = true
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(files, filepath.Join("..", path), nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range f.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if own, ok := strings.CutPrefix(name, "bayword/"); ok {
				assert.Regexp(t, r.may, own, "%s imports %s; %s", path, own, r.why)
			} else if r.never != "" && strings.Contains(name, ".") {
				assert.NotRegexp(t, r.never, name, "%s imports %s; %s", path, name, r.why)
			}
		}
	}
	for _, r := range rules {
		assert.True(t, seen[r.from], "the rule for %s holds nothing", r.from)
	}
}

// TestOnlyTwoPackagesTouchBadger holds that data is written in two places.
func TestOnlyTwoPackagesTouchBadger(t *testing.T) {
	t.Parallel()
	for _, path := range goFiles(t) {
		data, err := os.ReadFile(filepath.Join("..", path))
		require.NoError(t, err)
		if strings.Contains(string(data), `"github.com/dgraph-io/badger/v4`) && !strings.HasSuffix(path, "_test.go") {
			assert.Regexp(t, `^internal/(ledger/badger|inbox)/`, path)
		}
	}
}

// TestDocumentsNameRealPaths holds that what the documents point to is there.
func TestDocumentsNameRealPaths(t *testing.T) {
	t.Parallel()
	named := regexp.MustCompile("`((?:internal|proto|server|bot|testdata|\\.ci)(?:/[\\w.*{}-]+)*/?)`")
	for _, doc := range []string{"README.md", "DEVELOPERS.md"} {
		data, err := os.ReadFile(filepath.Join("..", doc))
		require.NoError(t, err)
		found := named.FindAllStringSubmatch(string(data), -1)
		assert.NotEmpty(t, found, doc)
		for _, m := range found {
			matches, err := filepath.Glob(filepath.Join("..", m[1]))
			require.NoError(t, err)
			assert.NotEmpty(t, matches, "%s names %s", doc, m[1])
		}
	}
}

func goFiles(t *testing.T) []string {
	t.Helper()
	var out []string
	require.NoError(t, filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != ".." {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") {
			rel, err := filepath.Rel("..", path)
			if err != nil {
				return err
			}
			out = append(out, filepath.ToSlash(rel))
		}
		return nil
	}))
	require.NotEmpty(t, out)
	return out
}
