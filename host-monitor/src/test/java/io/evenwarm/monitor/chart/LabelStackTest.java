package io.evenwarm.monitor.chart;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

final class LabelStackTest {

    private static final double HEIGHT = 16;

    @Test
    void labelsThatDoNotMeetStayWhereTheyWantToBe() {
        double[] wanted = {90, 20, 50};
        assertArrayEquals(wanted, LabelStack.place(wanted, HEIGHT, 0, 200), 1e-9);
    }

    @Test
    void twoLabelsAtOnePlaceShareOutTheRoomEvenly() {
        assertArrayEquals(
                new double[] {92, 108}, LabelStack.place(new double[] {100, 100}, HEIGHT, 0, 200));
    }

    @Test
    void noLabelLiesOverAnotherOrOutsideAndTheirOrderStays() {
        for (long seed = 1; seed <= 500; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            double bottom = 100 + random.nextInt(400);
            int count = 1 + random.nextInt((int) (bottom / HEIGHT));
            double[] wanted = new double[count];
            for (int i = 0; i < count; i++) {
                // Mostly crowded, as the probes of an even cabinet are.
                wanted[i] = random.nextInt(3) > 0 ? bottom / 2 : bottom * random.nextDouble();
            }
            double[] placed = LabelStack.place(wanted, HEIGHT, 0, bottom);
            String inputs = "seed " + seed + " wanted " + Arrays.toString(wanted);
            double[] sorted = placed.clone();
            Arrays.sort(sorted);
            assertTrue(sorted[0] >= HEIGHT / 2 - 1e-9, inputs);
            assertTrue(sorted[count - 1] <= bottom - HEIGHT / 2 + 1e-9, inputs);
            for (int i = 1; i < count; i++) {
                assertTrue(sorted[i] - sorted[i - 1] >= HEIGHT - 1e-9, inputs);
            }
            for (int i = 0; i < count; i++) {
                for (int j = 0; j < count; j++) {
                    if (wanted[i] < wanted[j]) {
                        assertTrue(placed[i] < placed[j], inputs);
                    }
                }
            }
        }
    }

    @Test
    void moreLabelsThanFitStayInsideTheBounds() {
        double[] placed = LabelStack.place(new double[] {10, 10, 10, 10}, HEIGHT, 0, 32);
        Arrays.sort(placed);
        assertEquals(8, placed[0], 1e-9);
        assertEquals(24, placed[3], 1e-9);
    }
}
