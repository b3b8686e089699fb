package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbePlace;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where in the cabinet a point is.
 *
 * @param label what the keeper calls it
 * @param spot where that is; empty where the words don't say
 */
public record Position(String label, Optional<Spot> spot) {

    private static final Pattern SHELF = Pattern.compile("\\bshelf\\s*(\\d{1,2})\\b");

    /** A spot this near to the middle, along each edge, is the centre. */
    private static final double CENTRE_REACH = 0.2;

    /** Above this the top begins, below the rest of it the bottom. */
    private static final double TOP_FROM = 2.0 / 3;

    /**
     * A place in the working space, as shares of its edges.
     *
     * @param up 0 at the bottom, 1 at the top
     * @param across 0 at the left, 1 at the right, as seen from the door
     * @param back 0 at the door, 1 at the back wall
     */
    public record Spot(double up, double across, double back) {

        public Spot {
            requireShare("up", up);
            requireShare("across", across);
            requireShare("back", back);
        }

        private static void requireShare(String what, double share) {
            if (!(share >= 0 && share <= 1)) {
                throw new IllegalArgumentException(what + " must be 0 to 1 but was " + share);
            }
        }
    }

    /**
     * Reads places out of the words that the keeper gave them: {@code top}, {@code bottom}, {@code
     * shelf 2 left front}. Shelves are counted from the top; the last one named is the lowest.
     */
    public static List<Position> of(List<ProbePlace> places) {
        int shelves = 0;
        for (ProbePlace place : places) {
            shelves = Math.max(shelves, shelf(place.label()).orElse(0));
        }
        List<Position> positions = new ArrayList<>();
        for (ProbePlace place : places) {
            positions.add(new Position(place.label(), spot(place.label(), shelves)));
        }
        return List.copyOf(positions);
    }

    private static OptionalInt shelf(String label) {
        Matcher matcher = SHELF.matcher(label.toLowerCase(Locale.ROOT));
        return matcher.find() && !matcher.group(1).matches("0+")
                ? OptionalInt.of(Integer.parseInt(matcher.group(1)))
                : OptionalInt.empty();
    }

    private static Optional<Spot> spot(String label, int shelves) {
        List<String> words = List.of(label.toLowerCase(Locale.ROOT).split("[^a-z0-9]+"));
        OptionalInt shelf = shelf(label);
        boolean isCentre = words.contains("centre") || words.contains("center");
        double up;
        if (shelf.isPresent()) {
            up = 1 - (shelf.getAsInt() - 0.5) / shelves;
        } else if (words.contains("top") || words.contains("upper")) {
            up = 1;
        } else if (words.contains("bottom") || words.contains("lower")) {
            up = 0;
        } else if (words.contains("middle") || isCentre) {
            up = 0.5;
        } else {
            return Optional.empty();
        }
        double across = words.contains("left") ? 0 : words.contains("right") ? 1 : 0.5;
        double back =
                words.contains("front")
                        ? 0
                        : words.contains("back") || words.contains("rear") ? 1 : 0.5;
        return Optional.of(new Spot(up, across, back));
    }

    boolean isCentre() {
        return spot.map(
                        s ->
                                near(s.up, CENTRE_REACH)
                                        && near(s.across, CENTRE_REACH)
                                        && near(s.back, CENTRE_REACH))
                .orElse(false);
    }

    /** Square of the distance from the centre, of an edge each; far where the words don't say. */
    double fromCentre() {
        return spot.map(s -> square(s.up) + square(s.across) + square(s.back)).orElse(1.0);
    }

    private static double square(double share) {
        return (share - 0.5) * (share - 0.5);
    }

    private static boolean near(double share, double reach) {
        return Math.abs(share - 0.5) <= reach;
    }

    boolean isTop() {
        return spot.map(s -> s.up >= TOP_FROM).orElse(false);
    }

    boolean isBottom() {
        return spot.map(s -> s.up <= 1 - TOP_FROM).orElse(false);
    }
}
