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

    /** A label says its kind, so that the label alone can stand in files and messages. */
    public ProbePlace {
        Names.require("probe position", label);
        String lowerCase = label.toLowerCase(Locale.ROOT);
        if (kind != kindOf(lowerCase) || (kind != Kind.OTHER && !label.equals(lowerCase))) {
            throw new IllegalArgumentException(
                    "probe position " + label + " can't be of kind " + kind);
        }
    }

    /** The place that a keeper's word means; any word that is not one of the five is free text. */
    public static ProbePlace of(String text) {
        Kind kind = kindOf(text.toLowerCase(Locale.ROOT));
        return new ProbePlace(kind, kind == Kind.OTHER ? text : text.toLowerCase(Locale.ROOT));
    }

    private static Kind kindOf(String lowerCase) {
        return switch (lowerCase) {
            case "top" -> Kind.TOP;
            case "middle" -> Kind.MIDDLE;
            case "bottom" -> Kind.BOTTOM;
            case "tub" -> Kind.TUB;
            case "ambient" -> Kind.AMBIENT;
            default -> Kind.OTHER;
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
