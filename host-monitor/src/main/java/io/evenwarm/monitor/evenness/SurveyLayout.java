package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.List;

/**
 * Where to put the probes of a survey: the corners of the working space and its centre, or three by
 * three by three of them.
 *
 * <p>The working space ends before the walls, by a tenth of each inner edge, and by 50 mm at least
 * up to 1000 l, 100 mm up to 2000 l, 150 mm above (IEC 60068-3-5). Nine points are the eight
 * corners and the centre (IEC 60068-3-5; DIN 12880, 7.6, up to 50 l); 27 points DIN 12880 asks for
 * above 50 l.
 *
 * @param litres inner volume
 * @param points from the top down, each with words that {@link Position#of} understands
 */
public record SurveyLayout(double litres, List<Place> points) {

    private static final double EDGE_MILLIMETRES_MIN = 150;
    private static final double EDGE_MILLIMETRES_MAX = 5000;
    private static final double CUBIC_MILLIMETRES_A_LITRE = 1e6;
    private static final double MARGIN_SHARE = 0.1;
    private static final double SMALL_LITRES = 50;

    private static final String[] UP = {"bottom", "middle", "top"};
    private static final String[] ACROSS = {"left", "", "right"};
    private static final String[] BACK = {"front", "", "back"};

    /**
     * A place for a probe, in millimetres from the inside of the walls.
     *
     * @param label words for it
     */
    public record Place(
            String label,
            double fromLeftMillimetres,
            double fromDoorMillimetres,
            double fromFloorMillimetres) {}

    public SurveyLayout {
        points = List.copyOf(points);
    }

    /**
     * For a cabinet's inner edges, 150 to 5000 mm each.
     *
     * @param withAll 27 points in place of 9
     */
    public static SurveyLayout of(
            double widthMillimetres,
            double depthMillimetres,
            double heightMillimetres,
            boolean withAll) {
        requireEdge("width", widthMillimetres);
        requireEdge("depth", depthMillimetres);
        requireEdge("height", heightMillimetres);
        double litres =
                widthMillimetres * depthMillimetres * heightMillimetres / CUBIC_MILLIMETRES_A_LITRE;
        List<Place> places = new ArrayList<>();
        for (int up = 2; up >= 0; up--) {
            for (int back = 0; back <= 2; back++) {
                for (int across = 0; across <= 2; across++) {
                    boolean isCorner = up != 1 && back != 1 && across != 1;
                    boolean isCentre = up == 1 && back == 1 && across == 1;
                    if (withAll || isCorner || isCentre) {
                        places.add(
                                new Place(
                                        String.join(" ", UP[up], ACROSS[across], BACK[back])
                                                .strip()
                                                .replaceAll(" +", " "),
                                        along(widthMillimetres, litres, across),
                                        along(depthMillimetres, litres, back),
                                        along(heightMillimetres, litres, up)));
                    }
                }
            }
        }
        return new SurveyLayout(litres, places);
    }

    /** Whether DIN 12880 asks for 27 points of a cabinet of this size. */
    public boolean isAboveNinePoints() {
        return litres > SMALL_LITRES;
    }

    private static double along(double edge, double litres, int step) {
        double margin = marginMillimetres(edge, litres);
        return step == 0 ? margin : step == 1 ? edge / 2 : edge - margin;
    }

    static double marginMillimetres(double edge, double litres) {
        double least = litres <= 1000 ? 50 : litres <= 2000 ? 100 : 150;
        return Math.max(least, MARGIN_SHARE * edge);
    }

    private static void requireEdge(String what, double millimetres) {
        if (!(millimetres >= EDGE_MILLIMETRES_MIN && millimetres <= EDGE_MILLIMETRES_MAX)) {
            throw new IllegalArgumentException(
                    what
                            + " must be "
                            + EDGE_MILLIMETRES_MIN
                            + " to "
                            + EDGE_MILLIMETRES_MAX
                            + " mm but was "
                            + millimetres);
        }
    }
}
