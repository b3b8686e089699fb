package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ControlPlan;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class RelayWearTest {

    private static RelayWear switching(long before, int everySeconds, int hours) {
        RelayWear wear = new RelayWear(ControlPlan.defaults(), before);
        for (int second = 0; second < hours * 3600; second++) {
            wear.step(second % everySeconds < 12, 1);
        }
        return wear;
    }

    /** 10⁵ operations at one in 60 s end after 69.4 days (computed; relay data sheets say 10⁵). */
    @Test
    void aRelayThatWillNotLastATermIsNamed() {
        RelayWear wear = switching(0, 60, 30);
        assertEquals(1800, wear.operations());
        assertEquals(1440, wear.perDay(), 60);
        String warning = wear.warning().orElseThrow();
        assertTrue(warning.contains("1800 of 100000 rated operations"), warning);
        assertTrue(warning.contains("lasts 6") && warning.contains("less than a term"), warning);
    }

    @Test
    void oneThatLastsIsNot() {
        assertEquals(Optional.empty(), switching(0, 132, 30).warning());
        assertTrue(switching(60_000, 132, 30).warning().isPresent(), "40,000 left at 655 a day");
    }

    @Test
    void nothingIsSaidBeforeThePaceIsKnownUnlessItsLifeIsOver() {
        assertEquals(Optional.empty(), new RelayWear(ControlPlan.defaults(), 99_000).warning());
        String over = new RelayWear(ControlPlan.defaults(), 100_000).warning().orElseThrow();
        assertTrue(over.contains("past its rated life"), over);
    }

    @Test
    void aSolidStateRelayDoesNotWear() {
        RelayWear wear = new RelayWear(ControlPlan.solidStateDefaults(), 10_000_000);
        assertEquals(Optional.empty(), wear.warning());
    }
}
