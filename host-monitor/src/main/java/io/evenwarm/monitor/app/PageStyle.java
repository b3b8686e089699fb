package io.evenwarm.monitor.app;

/** How pages to print look: no script, nothing from elsewhere. */
final class PageStyle {

    private static final String STYLE =
            """
            @page { size: A4; margin: 14mm }
            body { font: 14px/1.4 "DejaVu Sans", Verdana, sans-serif; color: #10181c; background: #fff;
              max-width: 900px; margin: 16px auto; padding: 0 12px }
            h1 { font-size: 22px; margin: 0 0 4px } h2 { font-size: 17px; margin: 20px 0 6px }
            .verdict { border: 2px solid #10181c; border-radius: 6px; padding: 8px 12px; font-weight: 600 }
            .verdict.fail { border-width: 6px } .verdict.open { border-style: dashed }
            table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
            th, td { text-align: right; padding: 3px 8px; border-bottom: 1px solid #c9cdcb }
            th:first-child, td:first-child, td.words, th.words { text-align: left }
            .pictures { display: flex; flex-wrap: wrap; gap: 10px; break-inside: avoid }
            svg { max-width: 100% ; height: auto } .slice { font-size: 13px }
            .value { font-size: 18px; font-weight: 700 } .place { font-size: 11px }
            dl { display: grid; grid-template-columns: max-content 1fr; gap: 2px 16px }
            dt { font-weight: 600 } dd { margin: 0 } .small { color: #45525a; font-size: 12px }
            tr { break-inside: avoid } * { print-color-adjust: exact; -webkit-print-color-adjust: exact }
            """;

    private PageStyle() {}

    /** Begin of a page, up to its first element. */
    static String begin(String escapedTitle) {
        return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>"
                + escapedTitle
                + "</title><style>\n"
                + STYLE
                + "</style></head><body>\n";
    }
}
