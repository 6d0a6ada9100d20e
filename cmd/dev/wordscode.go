package main

import (
	"go/ast"
	"go/token"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// codeReader collects from a syntax tree the texts that reach a person. A text is a
// string with a space in it, or a word that begins with a capital, or any string
// that a function for labels or flags is given; what only the program reads is left
// out: names of files and settings, what is compared, cut or searched for, and the
// arguments of the packages for such things.
type codeReader struct {
	add   func(at token.Pos, kind, text string) personText
	found []personText
}

// visit is for ast.Inspect.
func (c *codeReader) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.Field:
		c.tag(n.Tag)
		if n.Type != nil {
			ast.Inspect(n.Type, c.visit)
		}
		return false
	case *ast.BinaryExpr:
		return c.binary(n)
	case *ast.CaseClause:
		for _, s := range n.Body {
			ast.Inspect(s, c.visit)
		}
		return false
	case *ast.IndexExpr:
		return false
	case *ast.CallExpr:
		return c.call(n)
	case *ast.BasicLit:
		c.text(n, false)
	}
	return true
}

// tag takes the key of a field in JSON.
func (c *codeReader) tag(t *ast.BasicLit) {
	if t == nil {
		return
	}
	raw, _ := strconv.Unquote(t.Value)
	key, _, _ := strings.Cut(reflect.StructTag(raw).Get("json"), ",")
	if key != "" && key != "-" {
		c.found = append(c.found, c.add(t.Pos(), "key", key))
	}
}

// binary joins what is added up to one text, and passes over what is compared.
func (c *codeReader) binary(n *ast.BinaryExpr) bool {
	if n.Op != token.ADD {
		return n.Op == token.LAND || n.Op == token.LOR
	}
	if text, at := joined(n); at != nil {
		c.keep(at.Pos(), text, false)
		for _, e := range addends(n) {
			if _, literal := e.(*ast.BasicLit); !literal {
				ast.Inspect(e, c.visit)
			}
		}
		return false
	}
	return true
}

// addends returns what a sum adds up.
func addends(e ast.Expr) []ast.Expr {
	if p, ok := e.(*ast.ParenExpr); ok {
		return addends(p.X)
	}
	if b, ok := e.(*ast.BinaryExpr); ok && b.Op == token.ADD {
		return append(addends(b.X), addends(b.Y)...)
	}
	return []ast.Expr{e}
}

// joined writes a sum of strings with … for what is not written in it, and returns
// its first string, nil where it has none.
func joined(e ast.Expr) (text string, first *ast.BasicLit) {
	for _, part := range addends(e) {
		lit, ok := part.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			text += "…"
			continue
		}
		if first == nil {
			first = lit
		}
		s, _ := strconv.Unquote(lit.Value)
		text += s
	}
	return text, first
}

// unread are packages whose functions take strings for the program alone.
func unread(pkg string) bool {
	return slices.Contains([]string{
		"strings", "filepath", "path", "os", "exec", "regexp", "bytes", "http", "storage", "time", "debug", "hex",
		"theme", "language", "scanner", "binary", "utf8", "url", "lang",
	}, pkg)
}

// labels are functions whose string may be a single word in small letters.
func labels(name string) bool {
	return slices.Contains([]string{
		"NewLabel", "NewTool", "NewTextTool", "NewEntry", "NewField", "NewEditField", "NewEscapeEntry", "Entry", "NewHeading",
		"NewQuiet", "NewWrapped", "NewWrappedQuiet", "NewChooser", "NewSentence", "NewCheck", "NewSelect", "NewFormItem", "SetPlaceHolder",
		"NewMenuItem", "NewButton", "NewStrip", "Say", "Tell", "Hint", "String", "Bool", "Int", "Float64", "StringVar", "BoolVar", "IntVar",
		"Float64Var", "Func", "Var", "Errorf",
	}, name)
}

// call passes over what only the program reads.
func (c *codeReader) call(n *ast.CallExpr) bool {
	name := ""
	switch f := n.Fun.(type) {
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok && unread(x.Name) && f.Sel.Name != "Join" && f.Sel.Name != "ReplaceAll" && f.Sel.Name != "NewReader" {
			for _, a := range n.Args {
				if _, literal := a.(*ast.BasicLit); !literal {
					ast.Inspect(a, c.visit)
				}
			}
			return false
		}
		name = f.Sel.Name
		ast.Inspect(f.X, c.visit)
	case *ast.Ident:
		name = f.Name
	default:
		ast.Inspect(n.Fun, c.visit)
	}
	for _, a := range n.Args {
		if lit, ok := a.(*ast.BasicLit); ok {
			c.text(lit, labels(name))
			continue
		}
		ast.Inspect(a, c.visit)
	}
	return false
}

// text keeps a string, each paragraph of a long one by itself.
func (c *codeReader) text(lit *ast.BasicLit, label bool) {
	if lit.Kind != token.STRING {
		return
	}
	if s, err := strconv.Unquote(lit.Value); err == nil {
		c.keep(lit.Pos(), s, label)
	}
}

func (c *codeReader) keep(at token.Pos, text string, label bool) {
	for _, part := range paragraphs(text) {
		if read(part, label) {
			c.found = append(c.found, c.add(at, "text", part))
		}
	}
}

// paragraphs cuts a text at empty lines and before lines that are set in, as lists of
// flags are. A line that is set in further than its item belongs to the item.
func paragraphs(text string) (list []string) {
	now, item := "", 0
	for _, line := range strings.Split(text, "\n") {
		whole := strings.TrimSpace(line)
		in := len(line) - len(strings.TrimLeft(line, " \t"))
		if whole == "" || in > 0 && (item == 0 || in <= item) {
			list = append(list, strings.TrimSpace(now))
			now, item = "", in
		}
		now += " " + whole
	}
	return append(list, strings.TrimSpace(now))
}

// read says whether a person reads a text: it holds words, and is no code, path,
// pattern or name of a setting.
func read(text string, label bool) bool {
	letters := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			letters++
		}
	}
	first, _ := utf8.DecodeRuneInString(text)
	switch {
	case letters < 2, strings.HasPrefix(text, "+proj"), strings.Contains(text, "http://"), strings.Contains(text, "https://"):
		return false
	case strings.Contains(text, " "):
		return strings.ContainsFunc(strings.NewReplacer("%s", "", "%d", "", "%v", "", "%w", "", "%q", "", "%g", "").Replace(text), func(r rune) bool { return unicode.IsLetter(r) })
	case label:
		return true
	}
	return unicode.IsUpper(first) && !strings.ContainsAny(text, "_/\\[]<>=.") && strings.ToUpper(text) != text
}
