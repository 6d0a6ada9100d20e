// Package overlay draws what is committed over the sheet.
package overlay
