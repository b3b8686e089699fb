package io.evenwarm.agent.guard;

import io.evenwarm.agent.port.Latch;
import java.util.Locale;

/** Values in words. Slow: only for texts that are about to be shown. */
final class Texts {

    private Texts() {}

    /** What the agent does about too little heat in a cabinet, by whether it may heat now. */
    static String heating(Circumstances now) {
        if (now.latch() instanceof Latch.Tripped) {
            return "nothing: heater off until a person resets the cut-off";
        }
        if (now.isHeatHeld()) {
            return "holds heat back until its cause goes; another finding names it";
        }
        return "heats as much as control asks for; no limit is moved";
    }

    /** For example {@code 31.56 °C}. */
    static String celsius(double celsius) {
        return String.format(Locale.ROOT, "%.2f °C", celsius);
    }

    /** For example {@code 1.52 K}. */
    static String kelvin(double kelvin) {
        return String.format(Locale.ROOT, "%.2f K", kelvin);
    }

    /** For example {@code +0.52 K}. */
    static String signedKelvin(double kelvin) {
        return String.format(Locale.ROOT, "%+.2f K", kelvin);
    }

    /** For example {@code 35 %}. */
    static String percent(double share) {
        return String.format(Locale.ROOT, "%.0f %%", 100 * share);
    }
}
