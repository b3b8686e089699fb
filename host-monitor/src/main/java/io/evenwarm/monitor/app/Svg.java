package io.evenwarm.monitor.app;

import io.evenwarm.monitor.report.Picture;
import io.evenwarm.monitor.web.Html;
import java.util.List;
import java.util.Locale;

/** Pictures as SVG in a page; how big words are stands in the page's style. */
final class Svg implements Picture.Painter<StringBuilder> {

    private final StringBuilder svg = new StringBuilder(8192);

    private Svg() {}

    static String of(List<Picture> pictures) {
        Svg drawn = new Svg();
        pictures.forEach(drawn::draw);
        return drawn.svg.toString();
    }

    private void draw(Picture picture) {
        add(
                "<svg viewBox=\"0 0 %1$.0f %2$.0f\" width=\"%1$.0f\" role=\"img\""
                        + " aria-label=\"%3$s\">",
                picture.width(), picture.height(), Html.text(picture.title()));
        picture.shapes().forEach(shape -> shape.fold(this));
        svg.append("</svg>");
    }

    private StringBuilder add(String form, Object... values) {
        return svg.append(String.format(Locale.ROOT, form, values));
    }

    @Override
    public StringBuilder box(Picture.Box box) {
        return add(
                "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"%.0f\""
                        + " fill=\"%s\" stroke=\"%s\" stroke-width=\"%.1f\"/>",
                box.x(),
                box.y(),
                box.width(),
                box.height(),
                box.round(),
                box.fill(),
                Picture.INK,
                box.edge());
    }

    @Override
    public StringBuilder line(Picture.Line line) {
        return add(
                "<polyline points=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%.1f\"%s/>",
                points(line.xs(), line.ys()),
                line.colour(),
                line.width(),
                line.isDashed() ? " stroke-dasharray=\"6 4\"" : "");
    }

    @Override
    public StringBuilder area(Picture.Area area) {
        return add(
                "<polygon points=\"%s\" fill=\"%s\"/>", points(area.xs(), area.ys()), area.fill());
    }

    private static String points(List<Double> xs, List<Double> ys) {
        StringBuilder points = new StringBuilder();
        for (int i = 0; i < xs.size(); i++) {
            points.append(String.format(Locale.ROOT, "%.1f,%.1f ", xs.get(i), ys.get(i)));
        }
        return points.toString().strip();
    }

    @Override
    public StringBuilder words(Picture.Words words) {
        return add(
                "<text x=\"%.1f\" y=\"%.1f\" fill=\"%s\" text-anchor=\"%s\""
                        + " class=\"%s\">%s</text>",
                words.x(),
                words.y(),
                words.colour(),
                words.anchor().name().toLowerCase(Locale.ROOT),
                words.style().name().toLowerCase(Locale.ROOT),
                Html.text(words.text()));
    }
}
