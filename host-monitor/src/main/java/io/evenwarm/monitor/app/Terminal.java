package io.evenwarm.monitor.app;

import io.evenwarm.monitor.live.LiveView;
import java.io.PrintStream;
import java.util.Optional;

/** Prints status lines until the end. */
final class Terminal {

    private static final int STEP_MILLIS = 100;

    private final PrintStream out;
    private final StatusLines lines;
    private final int everySeconds;

    Terminal(PrintStream out, StatusLines lines, int everySeconds) {
        this.out = out;
        this.lines = lines;
        this.everySeconds = everySeconds;
    }

    /** Runs on the caller's thread. The first lines come as soon as there is something to say. */
    Ending.Outcome run(LiveView live, Ending ending) {
        int millisUntilLines = 0;
        while (true) {
            boolean isEarly = live.cabinets().isEmpty() && millisUntilLines <= 0;
            if (millisUntilLines <= 0 && !isEarly) {
                print(live);
                millisUntilLines = everySeconds * 1000;
            } else if (isEarly && millisUntilLines <= -1000 * everySeconds) {
                print(live);
                millisUntilLines = 0;
            }
            if (out.checkError()) {
                // Whoever read the lines has gone.
                ending.done();
            }
            Optional<Ending.Outcome> outcome = ending.await(STEP_MILLIS);
            if (outcome.isPresent()) {
                return outcome.get();
            }
            millisUntilLines -= STEP_MILLIS;
        }
    }

    private void print(LiveView live) {
        lines.of(live).forEach(out::println);
        out.flush();
    }
}
