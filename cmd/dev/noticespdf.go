package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// partsFile holds the licences of libraries in the PDF renderer. No module carries them.
const partsFile = "assets/notices/software-pdf-parts.txt"

// debianDocs is where Debian keeps the copyright files of its packages.
const debianDocs = "/usr/share/doc"

// part is a library in the PDF renderer.
type part struct {
	name, trace, holders string
	debian               string   // the package whose copyright file has the licences
	licences             []string // their short names there
}

// pdfParts are the libraries whose licences Debian carries. The renderer holds the trace
// of each.
var pdfParts = []part{
	{"FreeType", "FREETYPE_PROPERTIES", "The FreeType Project", "libfreetype6", []string{"FTL"}},
	{"libjpeg-turbo", "libjpeg-turbo version", "1991-2024 The libjpeg-turbo Project and many others", "libjpeg62-turbo", []string{"BSD-BY-LC-NE", "BSD-3-clause", "Zlib"}},
	{
		"OpenJPEG", "OpenJpeg", "2001-2017 Université catholique de Louvain (UCL), Professor Benoit Macq, Antonin Descampe,\n  " +
			"Francois-Olivier Devaux, Herve Drolon (FreeImage Team), Yannick Verschueren, David Janssens, Callum Lerwick,\n  " +
			"Centre National d'Etudes Spatiales (CNES), CS Systemes d'Information, IntoPIX SA, Even Rouault and others",
		"libopenjp2-7",
		[]string{"BSD-2"},
	},
	{"Little CMS", "cmsWhitePointFromTemp", "1998-2022 Marti Maria Saguer", "liblcms2-2", []string{"MIT"}},
	{"zlib", "incorrect header check", "Jean-loup Gailly and Mark Adler", "zlib1g", []string{"Zlib"}},
}

// partNotices gathers the licences of the parts from the copyright files below a folder.
func partNotices(parts []part, below string) (string, error) {
	var out strings.Builder
	out.WriteString("Licences of libraries in the PDF renderer, as the copyright files of Debian 12 carry them:\n")
	for _, p := range parts {
		file := filepath.Join(below, p.debian, "copyright")
		raw, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("the Debian package %s has the licence of %s: %w", p.debian, p.name, err)
		}
		fmt.Fprintf(&out, "\n%[1]s\n%s, from the package %s\n  Copyright (C) %s\n%[1]s\n", strings.Repeat("-", 59), p.name, p.debian, p.holders)
		for _, name := range p.licences {
			text := debianLicence(string(raw), name)
			if text == "" {
				return "", fmt.Errorf("%s has no licence %s", file, name)
			}
			out.WriteString("\n" + text + "\n")
		}
	}
	return out.String(), nil
}

// debianLicence returns the text of a licence in a copyright file of Debian, where it
// stands indented, with a dot in each empty line; "" if it has none.
func debianLicence(file, name string) string {
	for _, paragraph := range strings.Split("\n"+file, "\nLicense: "+name+"\n")[1:] {
		var lines []string
		for line := range strings.Lines(paragraph) {
			line = strings.TrimRight(line, " \t\n")
			if !strings.HasPrefix(line, " ") {
				break
			}
			line = line[1:]
			if line == "." {
				line = ""
			}
			lines = append(lines, line)
		}
		if text := strings.Trim(strings.Join(lines, "\n"), "\n"); text != "" {
			return text
		}
	}
	return ""
}
