package io.evenwarm.message;

import java.util.Locale;

/**
 * Where a probe sits.
 *
 * @param kind how the place counts
 * @param label what the keeper calls it; for the four fixed places the place's own name
 */
public record ProbePlace(Kind kind, String label) {

    public static final ProbePlace TOP = new ProbePlace(Kind.TOP, "top");
    public static final ProbePlace MIDDLE = new ProbePlace(Kind.MIDDLE, "middle");
    public static final ProbePlace BOTTOM = new ProbePlace(Kind.BOTTOM, "bottom");
    public static final ProbePlace TUB = new ProbePlace(Kind.TUB, "tub");
    public static final ProbePlace AMBIENT = new ProbePlace(Kind.AMBIENT, "ambient");

    public ProbePlace {
        Names.require("probe position", label);
    }

    /** The place that a keeper's word means; any word that is not one of the five is free text. */
    public static ProbePlace of(String text) {
        return switch (text.toLowerCase(Locale.ROOT)) {
            case "top" -> TOP;
            case "middle" -> MIDDLE;
            case "bottom" -> BOTTOM;
            case "tub" -> TUB;
            case "ambient" -> AMBIENT;
            default -> new ProbePlace(Kind.OTHER, text);
        };
    }

    /** How a place counts in control and guard. */
    public enum Kind {
        /** In the cabinet's air, above the shelves. */
        TOP,
        /** In the cabinet's air, half way up. */
        MIDDLE,
        /** In the cabinet's air, below the shelves. */
        BOTTOM,
        /** In a tub's medium, beside the eggs: slow. */
        TUB,
        /** In the room, outside the cabinet. */
        AMBIENT,
        /** In the cabinet's air, at a place the keeper named. */
        OTHER;

        /** Whether a probe here measures the cabinet's air. */
        public boolean isAir() {
            return this == TOP || this == MIDDLE || this == BOTTOM || this == OTHER;
        }
    }
}
