package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * What no rule can find, computed from the catalogue's own cabinets. {@code docs/findings.md} tells
 * these numbers.
 */
final class GuardLimitsTest {

    private static final int SEEDS = 1000;

    /**
     * A cabinet of which the fan's own heat makes good for all that its walls lose, at the coldest
     * of the day, is never heated: a heater or a relay that is never asked can't show what became
     * of it.
     */
    private static List<Long> neverHeated(int seeds) {
        List<Long> found = new ArrayList<>();
        for (long seed = 1; seed <= seeds; seed++) {
            if (DueFindings.isNeverHeated(Catalogue.cabinet(seed))) {
                found.add(seed);
            }
        }
        return found;
    }

    @Test
    void inSomeCabinetsNothingCanTellThatAHeaterThatIsNeverNeededDied() {
        List<Long> seeds = neverHeated(SEEDS);
        assertEquals(11, seeds.size(), () -> "never heated: " + seeds);
        assertEquals(List.of(92L), neverHeated(100));
    }
}
