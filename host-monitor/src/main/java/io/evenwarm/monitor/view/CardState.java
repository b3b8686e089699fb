package io.evenwarm.monitor.view;

/**
 * How a cabinet stands, at a glance. Ordered from calm to grave. Each has words, a shape and an
 * ink, so that none is told by its colour alone.
 */
enum CardState {
    WELL("Holding", Shape.DISC),
    /** Not at its set point yet, or heat is held back, but nothing was found wrong. */
    SETTLING("Settling", Shape.RING),
    ATTENTION("Needs a look", Shape.TRIANGLE),
    TRIPPED("Cut off", Shape.OCTAGON),
    STALE("Old reading", Shape.BROKEN_RING),
    LOST("No contact", Shape.CROSS);

    /** What is drawn beside the words. */
    enum Shape {
        DISC,
        RING,
        TRIANGLE,
        OCTAGON,
        BROKEN_RING,
        CROSS,
        /** An alarm of low priority. */
        DIAMOND,
        /** In the log: trouble that is over. */
        HOLLOW_TRIANGLE,
        /** In the log: something that was done. */
        DOT
    }

    private final String words;
    private final Shape shape;

    CardState(String words, Shape shape) {
        this.words = words;
        this.shape = shape;
    }

    String words() {
        return words;
    }

    Shape shape() {
        return shape;
    }

    /** Whether the numbers are what the cabinet is now, and not what it was. */
    boolean isAlive() {
        return this != STALE && this != LOST;
    }
}
