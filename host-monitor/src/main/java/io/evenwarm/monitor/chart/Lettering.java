package io.evenwarm.monitor.chart;

import io.evenwarm.message.Limits;
import io.evenwarm.quantity.TemperatureUnit;
import java.awt.Color;
import java.awt.FontMetrics;
import java.awt.Graphics2D;
import java.awt.Paint;
import java.awt.TexturePaint;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;

/** Writes on a drawn chart: headings, limits, the curves' ends, and where nothing is known. */
final class Lettering {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);
    private static final int LABEL_INSET = 22;
    private static final int MARK_INSET = 12;
    private static final int CUT_OFF_INSET = 140;
    private static final int HATCH_PIXELS = 8;

    private final ChartSpec spec;
    private final Look look;
    private final Graphics2D graphics;

    Lettering(ChartSpec spec, Look look, Graphics2D graphics) {
        this.spec = spec;
        this.look = look;
        this.graphics = graphics;
    }

    /** {@code areas} are the rectangles of the curves, one a panel. */
    void letter(List<Panel> panels, List<Rectangle2D> areas) {
        for (int i = 0; i < panels.size(); i++) {
            Panel panel = panels.get(i);
            Rectangle2D area = areas.get(i);
            heading(panel, area);
            if (panel.kind() == Panel.Kind.CABINET) {
                spec.limits().ifPresent(limits -> limits(limits, panel, area));
            }
            ends(panel, area);
            spec.silentSince().ifPresent(since -> silence(since, panel, area));
        }
    }

    private void heading(Panel panel, Rectangle2D area) {
        graphics.setFont(look.smallBold());
        graphics.setPaint(Ink.TEXT.color());
        graphics.drawString(panel.heading(), (float) area.getMinX(), (float) area.getMinY() - 8);
        graphics.setPaint(Ink.RULE.color());
        graphics.setStroke(Look.HAIR);
        graphics.draw(
                new Line2D.Double(area.getMinX(), area.getMaxY(), area.getMaxX(), area.getMaxY()));
    }

    private void limits(Limits limits, Panel panel, Rectangle2D area) {
        TemperatureUnit unit = spec.frame().unit();
        limit(
                "too warm above ",
                unit.fromCelsius(limits.tooWarm().celsius()),
                true,
                0,
                panel,
                area);
        limit(
                "too cold below ",
                unit.fromCelsius(limits.tooCold().celsius()),
                false,
                0,
                panel,
                area);
        // In a column of its own: in a low picture it would lie on the label of the warm limit.
        limit(
                "cut-off at ",
                unit.fromCelsius(limits.cutOff().celsius()),
                true,
                CUT_OFF_INSET,
                panel,
                area);
    }

    private void limit(
            String words, double value, boolean above, int inset, Panel panel, Rectangle2D area) {
        if (!panel.range().contains(value)) {
            return;
        }
        graphics.setFont(look.small());
        FontMetrics metrics = graphics.getFontMetrics();
        double y = y(value, panel, area);
        double over = y - 4;
        double under = y + metrics.getAscent() + 2;
        boolean overFits = over - metrics.getAscent() >= area.getMinY();
        boolean underFits = under <= area.getMaxY();
        if (!overFits && !underFits) {
            return;
        }
        double base = (above && overFits) || !underFits ? over : under;
        String text = words + number(value, 1);
        halo(text, area.getMinX() + 6 + inset, base);
    }

    private void ends(Panel panel, Rectangle2D area) {
        if (panel.kind() == Panel.Kind.HEATER) {
            heaterEnd(panel, area);
            return;
        }
        List<Panel.Line> known =
                panel.lines().stream().filter(line -> line.points().lastKnown() >= 0).toList();
        double[] wanted = new double[known.size()];
        for (int i = 0; i < wanted.length; i++) {
            Panel.Line line = known.get(i);
            double value = line.points().lastValue();
            wanted[i] = clamp(y(value, panel, area), area.getMinY(), area.getMaxY());
        }
        double slack = Look.LABEL_HEIGHT / 2;
        double[] placed =
                LabelStack.place(
                        wanted, Look.LABEL_HEIGHT, area.getMinY() - slack, area.getMaxY() + slack);
        for (int i = 0; i < wanted.length; i++) {
            end(known.get(i), wanted[i], placed[i], panel, area);
        }
    }

    private void end(Panel.Line line, double atY, double labelY, Panel panel, Rectangle2D area) {
        int last = line.points().lastKnown();
        double value = line.points().value(last);
        double endX = Math.min(x(line.points().time(last), area), area.getMaxX());
        double edge = area.getMaxX();
        graphics.setStroke(Look.LEADER);
        graphics.setPaint(Ink.LIMIT_LINE.color());
        if (edge - endX > 3) {
            graphics.draw(new Line2D.Double(endX, atY, edge, atY));
        }
        graphics.setStroke(Look.HAIR);
        graphics.setPaint(Ink.RULE.color());
        graphics.draw(new Line2D.Double(edge + 1, atY, edge + MARK_INSET - 6, labelY));
        graphics.setPaint(line.mark().ink().color());
        graphics.fill(line.mark().shape(edge + MARK_INSET, labelY));
        String off = value > panel.range().high() ? " ↑" : value < panel.range().low() ? " ↓" : "";
        boolean current = spec.atNow() && spec.silentSince().isEmpty() && edge - endX < 6;
        String number =
                current || line.mark() == Mark.SET_POINT ? number(value, line.decimals()) : "";
        label(line.label(), number + off, edge + LABEL_INSET, labelY);
    }

    private void heaterEnd(Panel panel, Rectangle2D area) {
        double newest = panel.lines().get(1).points().lastValue();
        boolean current = spec.atNow() && spec.silentSince().isEmpty();
        String number = Double.isNaN(newest) || !current ? "" : number(newest, 0) + " %";
        label("mean", number, area.getMaxX() + LABEL_INSET, area.getCenterY());
        graphics.setPaint(Ink.TEXT.color());
        graphics.setStroke(Look.CURVE);
        double left = area.getMaxX() + MARK_INSET;
        graphics.draw(new Line2D.Double(left - 5, area.getCenterY(), left + 5, area.getCenterY()));
    }

    private void label(String name, String number, double x, double y) {
        graphics.setFont(look.smallBold());
        FontMetrics bold = graphics.getFontMetrics();
        double room = Look.RIGHT - LABEL_INSET - 4;
        double base = y + bold.getAscent() / 2.0 - 1.5;
        double numberWidth = number.isEmpty() ? 0 : bold.stringWidth(number) + 6;
        graphics.setFont(look.small());
        String fitted = fit(name, graphics.getFontMetrics(), room - numberWidth);
        graphics.setPaint(Ink.TEXT.color());
        graphics.drawString(fitted, (float) x, (float) base);
        if (!number.isEmpty()) {
            double after = x + graphics.getFontMetrics().stringWidth(fitted) + 6;
            graphics.setFont(look.smallBold());
            graphics.drawString(number, (float) after, (float) base);
        }
    }

    /** Hatches what is not known, so that an empty plot is not taken for a quiet cabinet. */
    private void silence(Instant since, Panel panel, Rectangle2D area) {
        double begin =
                clamp(x((double) since.toEpochMilli(), area), area.getMinX(), area.getMaxX());
        Rectangle2D unknown =
                new Rectangle2D.Double(
                        begin, area.getMinY(), area.getMaxX() - begin, area.getHeight());
        if (unknown.getWidth() < 1) {
            return;
        }
        graphics.setPaint(hatch());
        graphics.fill(unknown);
        if (panel.kind() != Panel.Kind.CABINET) {
            return;
        }
        graphics.setFont(look.smallBold());
        String words = "nothing heard since " + TIME.format(since.atZone(spec.frame().zone()));
        double width = graphics.getFontMetrics().stringWidth(words);
        double x = Math.max(area.getMinX() + 6, unknown.getCenterX() - width / 2);
        halo(words, Math.min(x, area.getMaxX() - width - 6), area.getMinY() + 40);
    }

    private static Paint hatch() {
        BufferedImage tile =
                new BufferedImage(HATCH_PIXELS, HATCH_PIXELS, BufferedImage.TYPE_INT_ARGB);
        Graphics2D pen = tile.createGraphics();
        pen.setColor(Ink.PAPER.color(120));
        pen.fillRect(0, 0, HATCH_PIXELS, HATCH_PIXELS);
        pen.setColor(Ink.LIMIT_LINE.color(150));
        pen.drawLine(0, HATCH_PIXELS - 1, HATCH_PIXELS - 1, 0);
        pen.dispose();
        return new TexturePaint(tile, new Rectangle2D.Double(0, 0, HATCH_PIXELS, HATCH_PIXELS));
    }

    /** Text that stays legible over curves. */
    private void halo(String text, double x, double base) {
        FontMetrics metrics = graphics.getFontMetrics();
        Color ground = Ink.CARD.color(210);
        graphics.setPaint(ground);
        graphics.fill(
                new Rectangle2D.Double(
                        x - 3,
                        base - metrics.getAscent() - 1,
                        metrics.stringWidth(text) + 6.0,
                        metrics.getHeight()));
        graphics.setPaint(Ink.QUIET_TEXT.color());
        graphics.drawString(text, (float) x, (float) base);
    }

    private double x(double epochMillis, Rectangle2D area) {
        long from = spec.span().from().toEpochMilli();
        long to = Math.max(from + 1, spec.span().to().toEpochMilli());
        return area.getMinX() + (epochMillis - from) / (to - from) * area.getWidth();
    }

    private static double y(double value, Panel panel, Rectangle2D area) {
        ValueRange range = panel.range();
        return area.getMaxY()
                - (value - range.low()) / (range.high() - range.low()) * area.getHeight();
    }

    private static String fit(String text, FontMetrics metrics, double room) {
        if (metrics.stringWidth(text) <= room) {
            return text;
        }
        int length = text.length();
        while (length > 1 && metrics.stringWidth(text.substring(0, length) + "…") > room) {
            length--;
        }
        return text.substring(0, length) + "…";
    }

    private static String number(double value, int decimals) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    private static double clamp(double value, double low, double high) {
        return Math.max(low, Math.min(high, value));
    }
}
