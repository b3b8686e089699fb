package io.evenwarm.monitor.app;

import io.evenwarm.monitor.report.Picture;
import io.evenwarm.monitor.web.Html;
import java.util.List;

/** Writes a page to print, piece by piece: one HTML file, no script, nothing from elsewhere. */
final class PageWriter {

    private final StringBuilder html = new StringBuilder(32_768);

    PageWriter(String title) {
        html.append(PageStyle.begin(Html.text(title)));
        element("h1", title);
    }

    /** The whole page; nothing can be added after it. */
    String end() {
        return html.append("</body></html>\n").toString();
    }

    void element(String tag, String text) {
        html.append('<').append(tag).append('>').append(Html.text(text));
        html.append("</").append(tag).append(">\n");
    }

    /**
     * A paragraph.
     *
     * @param kind classes of the page's style; may be empty
     */
    void paragraph(String kind, String text) {
        html.append(kind.isEmpty() ? "<p>" : "<p class=\"" + kind + "\">").append(Html.text(text));
        html.append("</p>\n");
    }

    void pictures(List<Picture> pictures) {
        html.append("<div class=\"pictures\">").append(Svg.of(pictures)).append("</div>\n");
    }

    void beginDefinitions() {
        html.append("<dl>");
    }

    void definition(String name, String words) {
        html.append("<dt>").append(Html.text(name)).append("</dt><dd>");
        html.append(Html.text(words)).append("</dd>\n");
    }

    void endDefinitions() {
        html.append("</dl>\n");
    }

    /**
     * Begins a table.
     *
     * @param heads of its columns; one that begins with {@code <} stands left, as words do
     */
    void beginTable(String... heads) {
        html.append("<table><tr>");
        for (String head : heads) {
            boolean isWords = head.startsWith("<");
            html.append(isWords ? "<th class=\"words\">" : "<th>");
            html.append(Html.text(isWords ? head.substring(1) : head)).append("</th>");
        }
        html.append("</tr>\n");
    }

    void beginRow() {
        html.append("<tr>");
    }

    void cell(String text) {
        html.append("<td>").append(Html.text(text)).append("</td>");
    }

    /** A cell of words. */
    void words(String text) {
        html.append("<td class=\"words\">").append(Html.text(text)).append("</td>");
    }

    void endRow() {
        html.append("</tr>\n");
    }

    void endTable() {
        html.append("</table>\n");
    }
}
