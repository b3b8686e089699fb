package io.evenwarm.agent.guard;

import java.util.Locale;

/** Values in words. Slow: only for texts that are about to be shown. */
final class Texts {

    private Texts() {}

    /** For example {@code 31.56 °C}. */
    static String celsius(double celsius) {
        return String.format(Locale.ROOT, "%.2f °C", celsius);
    }

    /** For example {@code 1.52 K}. */
    static String kelvin(double kelvin) {
        return String.format(Locale.ROOT, "%.2f K", kelvin);
    }
}
