package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.ProbeName;
import java.util.Optional;

/**
 * What a fault's own keys say. A kind looks only at those that it has.
 *
 * @param probe the probe that it hits
 * @param with the other one, of a kind that hits two
 * @param number its number
 * @param flag its yes or no
 */
public record FaultKeys(
        Optional<ProbeName> probe, Optional<ProbeName> with, double number, boolean flag) {

    /** For a kind that needs none. */
    public static final FaultKeys NONE =
            new FaultKeys(Optional.empty(), Optional.empty(), 0, false);

    public static FaultKeys of(ProbeName probe, double number) {
        return new FaultKeys(Optional.of(probe), Optional.empty(), number, false);
    }

    public static FaultKeys of(double number) {
        return new FaultKeys(Optional.empty(), Optional.empty(), number, false);
    }
}
