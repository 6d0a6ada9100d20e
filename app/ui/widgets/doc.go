// Package widgets holds the small made widgets that the panels of the bench share:
// headings, figures, tool buttons, choosers, chips, sentences, strips and
// hairlines. A part knows colours and sizes through the theme of app/ui/look
// and calls back; it knows no plan and no session.
package widgets
