package io.evenwarm.monitor.chart;

import java.awt.BasicStroke;
import java.awt.Font;

/** Sizes, fonts and strokes of a chart, on a grid of 4 logical pixels. */
final class Look {

    static final int LEFT = 52;

    /** Room for the labels at the curves' ends. */
    static final int RIGHT = 132;

    static final int TOP = 24;
    static final int STRIP_HEIGHT = 44;

    /** Lower than this the cabinet's own curves are flattened: other strips give way first. */
    static final int CABINET_HEIGHT_MIN = 150;

    /** Between panels: a heading stands in it. */
    static final int GAP = 28;

    static final int BOTTOM = 24;
    static final double LABEL_HEIGHT = 16;

    static final BasicStroke CURVE = line(1.4f);
    static final BasicStroke BAND = line(1.2f);
    static final BasicStroke TUB_CURVE = line(2f);
    static final BasicStroke SET_POINT = dashed(1.4f, 7, 4);
    static final BasicStroke LIMIT = dashed(1.1f, 3, 3);
    static final BasicStroke CUT_OFF = dashed(1.8f, 12, 3);
    static final BasicStroke ESTIMATE = dashed(1.8f, 5, 3);
    static final BasicStroke ESTIMATE_EDGE = dashed(1f, 2, 2);
    static final BasicStroke HAIR = line(1f);
    static final BasicStroke LEADER = dashed(1f, 1, 3);

    private final Font small;
    private final Font smallBold;

    Look(String family) {
        small = new Font(family, Font.PLAIN, 11);
        smallBold = new Font(family, Font.BOLD, 11);
    }

    Font small() {
        return small;
    }

    Font smallBold() {
        return smallBold;
    }

    private static BasicStroke line(float width) {
        return new BasicStroke(width, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND);
    }

    private static BasicStroke dashed(float width, float on, float off) {
        return new BasicStroke(
                width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_BEVEL, 10, new float[] {on, off}, 0);
    }
}
