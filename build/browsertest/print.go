package browsertest

import (
	"context"
	"regexp"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

var pageOfPDF = regexp.MustCompile(`/Type\s*/Page[^s]`)

// Print prints the page as the browser's dialogue would and counts the sheets.
func (tab *Tab) Print(size chromedp.PaperSize) (pdf []byte, sheets int) {
	tab.t.Helper()
	ctx, cancel := context.WithTimeout(tab.ctx, patience)
	defer cancel()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
	require.NoError(tab.t, err)
	return pdf, len(pageOfPDF.FindAll(pdf, -1))
}
