package io.evenwarm.monitor.chart;

import java.awt.Color;
import java.util.Locale;

/**
 * Every colour of the monitor, for curves and window alike.
 *
 * <p>The hues are those of Okabe and Ito [1], chosen there so that people with any common colour
 * vision deficiency can tell them apart; the greys are our own. No state and no curve is told by
 * its colour alone: each also has a word and a {@link Mark}.
 *
 * <p>[1] M. Okabe, K. Ito, "Color Universal Design (CUD): How to make figures and presentations
 * that are friendly to colorblind people", 2002, revised 2008, figure "colorblind barrier-free
 * color palette"; values from memory of it.
 */
public enum Ink {
    // Okabe and Ito.
    VERMILLION(0xD55E00),
    BLUISH_GREEN(0x009E73),
    BLUE(0x0072B2),
    REDDISH_PURPLE(0xCC79A7),
    SKY_BLUE(0x56B4E9),
    ORANGE(0xE69F00),

    // Greys, from text to ground.
    TEXT(0x1B2A32),
    QUIET_TEXT(0x55636B),
    LIMIT_LINE(0x7B878D),
    RULE(0xC9CDCB),
    GRID(0xE6E7E3),
    PAPER(0xF3F1EC),
    CARD(0xFFFFFF);

    private final int rgb;

    Ink(int rgb) {
        this.rgb = rgb;
    }

    /** Red, green and blue, 8 bits each, from the high end. */
    public int rgb() {
        return rgb;
    }

    /** For a style sheet, for example {@code #d55e00}. */
    public String css() {
        return String.format(Locale.ROOT, "#%06x", rgb);
    }

    Color color() {
        return new Color(rgb);
    }

    /** With {@code alpha} from 0 (clear) to 255 (solid). */
    Color color(int alpha) {
        return new Color((rgb >> 16) & 0xFF, (rgb >> 8) & 0xFF, rgb & 0xFF, alpha);
    }
}
