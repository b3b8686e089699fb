package io.evenwarm.monitor.app;

import io.evenwarm.monitor.live.LiveView;
import java.io.PrintStream;
import java.util.Optional;

/** Prints status lines until the end. */
final class Terminal {

    private static final int STEP_MILLIS = 100;
    private static final int QUIET_MILLIS = 500;

    private final PrintStream out;
    private final StatusLines lines;
    private final AlarmLines alarms;
    private final int everySeconds;

    Terminal(PrintStream out, StatusLines lines, AlarmLines alarms, int everySeconds) {
        this.out = out;
        this.lines = lines;
        this.alarms = alarms;
        this.everySeconds = everySeconds;
    }

    /**
     * Runs on the caller's thread. The first lines come once every cabinet has had a moment to be
     * heard of, or when it is time for them anyway.
     */
    Ending.Outcome run(LiveView live, Ending ending) {
        int millisUntilLines = everySeconds * 1000;
        int known = 0;
        int quietMillis = 0;
        boolean isFirst = true;
        while (true) {
            int now = live.cabinets().size();
            quietMillis = now == known ? quietMillis + STEP_MILLIS : 0;
            known = now;
            boolean isComplete = isFirst && known > 0 && quietMillis >= QUIET_MILLIS;
            if (millisUntilLines <= 0 || isComplete) {
                print(live);
                isFirst = known == 0;
                millisUntilLines = everySeconds * 1000;
            }
            alarms.take().forEach(out::println);
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
