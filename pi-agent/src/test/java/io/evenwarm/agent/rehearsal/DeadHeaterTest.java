package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import org.junit.jupiter.api.Test;

/** A heater that dies beside something else that moves the air. */
final class DeadHeaterTest {

    /** 46 min is what one of twenty may take and a minute. */
    private static final double LATEST_SECONDS = 46 * 60;

    @Test
    void aLookMinutesAfterItDiedDoesNotMakeItPassForOneThatHeatsAgain() {
        CatalogueRun run = Catalogue.run(FaultKind.HEATER_OPEN, 35, () -> false);
        assertTrue(run.foundAfterSeconds().isPresent());
        double found = run.foundAfterSeconds().getAsDouble();
        assertTrue(found < LATEST_SECONDS, found + " s");
        assertFalse(run.verdict().firstRaised(FindingCode.MAINS_RETURNED).isPresent());
    }

    @Test
    void airThatGoesOnFallingAfterARelayTestIsNotHeatedAgain() {
        CatalogueRun run = Catalogue.run(FaultKind.HEATER_OPEN, 170, () -> false);
        assertTrue(run.foundAfterSeconds().isPresent());
        double found = run.foundAfterSeconds().getAsDouble();
        assertTrue(found < LATEST_SECONDS, found + " s");
    }
}
