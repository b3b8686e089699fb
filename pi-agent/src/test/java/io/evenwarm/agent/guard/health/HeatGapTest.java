package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class HeatGapTest {

    private final HeatGap gap = new HeatGap();
    private double slow;

    /** Returns how often it was said that the mains are back. */
    private int blocks(int blocks, boolean isGone, double partingKelvin) {
        int told = 0;
        for (int i = 0; i < blocks; i++) {
            slow += (partingKelvin - slow) / 540;
            gap.take(isGone, partingKelvin, slow);
            told += gap.isMainsReturned() ? 1 : 0;
        }
        return told;
    }

    @Test
    void heatAndFanThatWereGoneTogetherAndAreBackAreToldOnce() {
        blocks(360, false, 0);
        assertEquals(0, blocks(40, true, 0.12));
        assertEquals(1, blocks(360, false, 0.01));
        assertEquals(400, gap.seconds());
    }

    @Test
    void aHeaterThatFailedAloneForAWhileIsNoMainsCut() {
        assertEquals(0, blocks(40, true, 0.01));
        assertEquals(0, blocks(360, false, 0.01));
    }

    @Test
    void aLookThatChillsTheAirForAMinuteIsNoMainsCut() {
        assertEquals(0, blocks(8, true, 0.12));
        assertEquals(0, blocks(360, false, 0.01));
    }

    @Test
    void aFanThatStandsStillOnIsNoMainsCut() {
        assertEquals(0, blocks(40, true, 0.12));
        assertEquals(0, blocks(1440, false, 0.3));
        assertEquals(0, blocks(360, false, 0.01), "the fan was repaired hours later");
    }

    @Test
    void aSecondCutDoesNotLastAsLongAsBothTogether() {
        blocks(40, true, 0.12);
        blocks(360, false, 0.01);
        blocks(20, true, 0.12);
        assertEquals(1, blocks(360, false, 0.01));
        assertEquals(200, gap.seconds());
    }

    @Test
    void howLongAgoHeatCameBackCountsFromTheFirstBlockOfHeat() {
        assertTrue(gap.sinceSeconds() > 1e6);
        blocks(10, true, 0);
        assertTrue(gap.sinceSeconds() > 1e6);
        blocks(1, false, 0);
        assertEquals(0, gap.sinceSeconds());
        blocks(6, false, 0);
        assertEquals(60, gap.sinceSeconds());
        assertFalse(gap.isMainsReturned());
    }

    @Test
    void aHeaterThatHeldTheCabinetAllTheWhileLeavesNoGap() {
        blocks(360, false, 0);
        blocks(720, true, 0.12);
        gap.restart();
        assertEquals(0, blocks(360, false, 0.01));
        assertEquals(0, gap.seconds());
    }
}
