package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ProbeSensesTest {

    private final Random random = new Random(5);
    private final FrozenSense frozen = new FrozenSense();
    private final ScatterSense scatter = new ScatterSense();

    /** A sound probe in a quiet cabinet: changes every few minutes, as its neighbours do. */
    private void soundHours(int hours) {
        for (int i = 0; i < hours * 360; i++) {
            double air = 31.5 + 0.04 * StrictMath.sin(i / 2.0);
            frozen.take(i % 12 != 0, 3, air, 0.2, false, true, true);
            assertFalse(frozen.isFrozen());
        }
    }

    @Test
    void aProbeThatStaysWhileItsNeighboursMoveIsFrozen() {
        soundHours(12);
        for (int i = 0; i < 60; i++) {
            frozen.take(true, 3, 31.5 + 0.01 * i, 0.2, false, true, true);
        }
        assertTrue(frozen.isFrozen());
        assertTrue(frozen.neighboursMovedKelvin() > 0.14);
    }

    @Test
    void aProbeThatStaysWithItsNeighboursIsNot() {
        soundHours(12);
        for (int i = 0; i < 6 * 360; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
        }
        assertFalse(frozen.isFrozen());
    }

    @Test
    void aNeighbourThatGoesToAndFroBetweenTwoCodesIsNoMovement() {
        soundHours(12);
        for (int i = 0; i < 6 * 360; i++) {
            frozen.take(true, 3, 31.5 + (i % 12 < 3 ? 0.0625 : 0), 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
    }

    @Test
    void whatNeighboursDidWhileTheCabinetWasDisturbedIsNotHeldAgainstAProbe() {
        soundHours(12);
        for (int i = 0; i < 30; i++) {
            frozen.take(true, 3, 31.5 + 0.02 * i, 0.2, false, false, false);
        }
        for (int i = 0; i < 30; i++) {
            frozen.take(true, 3, 32.1, 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
        for (int i = 0; i < 60; i++) {
            frozen.take(true, 3, 32.1 + 0.01 * i, 0.2, false, true, true);
        }
        assertTrue(frozen.isFrozen());
    }

    /** Noise changes it in three blocks of four, and goes on doing so however still the air is. */
    @Test
    void aProbeWhoseNoiseChangesItAllTheTimeIsFrozenInStillAirToo() {
        for (int i = 0; i < 12 * 360; i++) {
            frozen.take(i % 4 == 0, 3, 31.5, 0.2, false, true, true);
        }
        for (int i = 0; i < 180; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
        frozen.take(true, 3, 31.5, 0.2, false, true, true);
        assertTrue(frozen.isFrozen());
    }

    /** At the edge between two codes noise changes it often, and far less a little farther on. */
    @Test
    void onesThatOnceRestedForAWhileMustRestSixteenTimesAsLong() {
        for (int i = 0; i < 12 * 360; i++) {
            frozen.take(i % 1000 < 20, 3, 31.5, 0.2, false, true, true);
        }
        frozen.take(false, 3, 31.5, 0.2, false, true, true);
        for (int i = 0; i < 15 * 20; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
        for (int i = 0; i < 20; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
        }
        assertTrue(frozen.isFrozen());
    }

    /** What made it change for a day goes on, be its noise and its neighbours ever so still. */
    @Test
    void afterADayEvenAQuietOneMayRestThirtyTwoTimesAsLongAsItEverDidAndNoLonger() {
        soundHours(26);
        // The longest rest of the day before is forgotten slowly.
        for (int i = 0; i < 30 * 11; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
        for (int i = 0; i < 22; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
        }
        assertTrue(frozen.isFrozen());
    }

    @Test
    void aProbeThatDoesNotFeelALookIsFrozenUnlessTheLayersAreOthers() {
        soundHours(12);
        for (int i = 0; i < 40; i++) {
            frozen.take(true, 3, 31.5 - 0.02 * i, 0.2, false, false, false);
        }
        assertFalse(frozen.isFrozen(), "in still air");
        frozen.take(false, 3, 31.5, 0.2, false, true, true);
        for (int i = 0; i < 30; i++) {
            frozen.take(true, 3, 31.5, 0.2, false, true, true);
        }
        for (int i = 0; i < 40; i++) {
            frozen.take(true, 3, 31.5 - 0.03 * i, 0.2, false, false, true);
        }
        assertTrue(frozen.isFrozen(), "in a look");
    }

    @Test
    void oneOtherValueAndItIsNoLongerFrozen() {
        aProbeThatStaysWhileItsNeighboursMoveIsFrozen();
        frozen.take(false, 3, 32, 0.2, false, true, true);
        assertFalse(frozen.isFrozen());
    }

    private void scatterHours(int hours, double kelvin) {
        for (int i = 0; i < hours * 360; i++) {
            double step = kelvin * random.nextGaussian();
            scatter.take(step * step, 3, true, 0);
        }
    }

    @Test
    void aProbeThatScattersFarMoreThanItDidIsNoisyUntilItNoLongerDoes() {
        scatterHours(6, 0.03);
        assertFalse(scatter.isNoisy());
        scatterHours(1, 0.3);
        assertTrue(scatter.isNoisy());
        assertEquals(0.3, scatter.stepKelvin(), 0.1);
        scatterHours(1, 0.03);
        assertFalse(scatter.isNoisy());
    }

    @Test
    void noiseIsFoundWithTheDoorOpenUnlessTheOthersJumpToo() {
        scatterHours(6, 0.03);
        for (int i = 0; i < 30; i++) {
            scatter.take(0.3, 3, false, 0.2);
        }
        assertFalse(scatter.isNoisy());
        for (int i = 0; i < 30; i++) {
            scatter.take(0.3, 3, false, 0.001);
        }
        assertTrue(scatter.isNoisy());
    }

    /**
     * No noise changes it, and it changed once an hour: the weather took it off the edge of a step.
     */
    @Test
    void aProbeThatRestsIsNotFrozenBeforeItsNeighboursMoveByMoreThanAStep() {
        for (int i = 0; i < 24 * 360; i++) {
            double air = 31.5 + 0.03 * StrictMath.sin(i / 20.0);
            frozen.take(i % 360 != 0, 3, air, 0.2, false, true, true);
        }
        for (int i = 0; i < 48 * 360; i++) {
            double air = 31.5 + 0.045 * StrictMath.sin(i / 20.0);
            frozen.take(true, 3, air, 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
        for (int i = 0; i < 360; i++) {
            frozen.take(true, 3, 31.5 + 0.06 * StrictMath.sin(i / 20.0), 0.2, false, true, true);
        }
        assertTrue(frozen.isFrozen());
    }

    /** 0.03 K a block with the door open in a cold room, then the air is warm before the tub is. */
    @Test
    void aTubThatColdAirCooledHasNotFallenOutOnceTheAirIsTheWarmerOne() {
        TubHealth tub = new TubHealth();
        tubMinutes(tub, 120, 0.001);
        double celsius = 31.5;
        for (int i = 0; i < 90; i++) {
            celsius -= 0.03;
            tub.take(celsius, 15, false);
        }
        for (int i = 0; i < 30; i++) {
            celsius -= 0.01;
            tub.take(celsius, 30, false);
        }
        assertEquals(ProbeTrouble.NONE, tub.trouble());
    }

    @Test
    void aTubsProbeThatFallsAwayFromWarmAirHasFallenOut() {
        TubHealth tub = new TubHealth();
        tubMinutes(tub, 120, 0.001);
        for (int i = 0; i < 12; i++) {
            tub.take(31.5 - 0.3 * i, 31.4, true);
        }
        assertEquals(ProbeTrouble.FALLEN_OUT, tub.trouble());
    }

    @Test
    void aProbeInATubIsNoisyUntilTenMinutesAfterTheNoise() {
        TubHealth tub = new TubHealth();
        tubMinutes(tub, 120, 0.001);
        assertEquals(ProbeTrouble.NONE, tub.trouble());
        tubMinutes(tub, 1, 4);
        assertEquals(ProbeTrouble.NOISY, tub.trouble());
        tubMinutes(tub, 60, 0.001);
        assertEquals(ProbeTrouble.NONE, tub.trouble());
    }

    private static void tubMinutes(TubHealth tub, int minutes, double meanSquaredStep) {
        for (int i = 0; i < 6 * minutes; i++) {
            tub.scatter().take(meanSquaredStep, 3, true, 0);
            tub.take(31.5, 31.5, true);
        }
    }

    @Test
    void aWildProbeIsFoundInHalfAMinuteAndOneFreakSampleIsNot() {
        scatterHours(6, 0.03);
        scatter.take(9, 3, true, 0);
        scatter.take(9, 3, true, 0);
        scatter.take(0.001, 3, true, 0);
        assertFalse(scatter.isNoisy());
        scatterHours(1, 0.03);
        for (int i = 0; i < 3; i++) {
            assertFalse(scatter.isNoisy());
            scatter.take(9, 3, true, 0);
        }
        assertTrue(scatter.isNoisy());
    }

    @Test
    void theRoundingOfAThermometerIsNoNoise() {
        scatterHours(24, 0.0625);
        assertFalse(scatter.isNoisy());
    }

    @Test
    void withoutAnyHeatAProbeThatRestsIsNotFrozen() {
        soundHours(12);
        for (int i = 0; i < 12 * 360; i++) {
            frozen.take(true, 3, 31.5 + 0.05 * StrictMath.sin(i / 2000.0), 0, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
    }

    @Test
    void aProbeThatNeverChangedYetIsNotKnownWellEnoughToBeFrozen() {
        for (int i = 0; i < 12 * 360; i++) {
            frozen.take(true, 3, 31.5 + 0.2 * StrictMath.sin(i / 200.0), 0.2, false, true, true);
            assertFalse(frozen.isFrozen(), "block " + i);
        }
    }
}
