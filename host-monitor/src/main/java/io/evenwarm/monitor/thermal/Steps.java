package io.evenwarm.monitor.thermal;

import java.util.Arrays;

/** A record in steps of {@value #STEP_SECONDS} s, as the filter takes it. */
final class Steps {

    static final int STEP_SECONDS = 300;
    static final int PER_DAY = 86_400 / STEP_SECONDS;

    static final int CELLS = STEP_SECONDS / ThermalRecord.CELL_SECONDS;

    /** A heater's own lag; a silicone cable's, and not felt by anything slower. No source. */
    static final double HEATER_LAG_SECONDS = 250;

    /** After tubs were exchanged: steps in which the door was open for it. */
    private static final int RELOADING = 4;

    final int size;
    final double[] air;
    final double[] room;
    final double[] tub;

    /** Share of the time that the heater was on. */
    final double[] duty;

    /** The same behind the heater's lag: the share of its power that leaves it. */
    final double[] heat;

    /** Neither fan nor heater, or nobody knows. */
    final boolean[] isStill;

    final boolean[] isReloading;

    Steps(ThermalRecord record) {
        size = record.size() / CELLS;
        air = new double[size];
        room = new double[size];
        tub = new double[size];
        duty = new double[size];
        heat = new double[size];
        isStill = new boolean[size];
        isReloading = new boolean[size];
        double kept = Math.exp(-ThermalRecord.CELL_SECONDS / HEATER_LAG_SECONDS);
        double leaving = Double.NaN;
        for (int k = 0; k < size; k++) {
            Mean airs = new Mean();
            Mean rooms = new Mean();
            Mean tubs = new Mean();
            Mean duties = new Mean();
            for (int cell = k * CELLS; cell < (k + 1) * CELLS; cell++) {
                airs.add(record.air(cell));
                rooms.add(record.room(cell));
                tubs.add(record.tub(cell));
                duties.add(record.duty(cell));
                isStill[k] |= record.isFanOff(cell);
            }
            double mean = duties.mean(1);
            isStill[k] |= Double.isNaN(mean);
            mean = Double.isNaN(mean) ? 0 : mean;
            for (int cell = k * CELLS; cell < (k + 1) * CELLS; cell++) {
                // A minute of which nothing was said is like the others of its step.
                double on = Double.isFinite(record.duty(cell)) ? record.duty(cell) : mean;
                leaving = Double.isNaN(leaving) ? on : kept * leaving + (1 - kept) * on;
                duty[k] += on / CELLS;
                heat[k] += leaving / CELLS;
            }
            air[k] = airs.mean(1);
            room[k] = rooms.mean(1);
            tub[k] = tubs.mean(1);
        }
        for (int cell : record.loadChanges()) {
            int from = Math.min(size, cell / CELLS);
            Arrays.fill(isReloading, from, Math.min(size, from + RELOADING), true);
        }
    }

    /**
     * By how much the coldest place's air was below the mean in a step, or the warmest's above it,
     * K; NaN where that was not read.
     */
    static double shelf(ThermalRecord record, int k, boolean isColdest) {
        Mean off = new Mean();
        for (int cell = k * CELLS; cell < (k + 1) * CELLS; cell++) {
            off.add(
                    isColdest
                            ? record.air(cell) - record.coldestAir(cell)
                            : record.warmestAir(cell) - record.air(cell));
        }
        return Math.max(0, off.mean(1));
    }

    boolean hasTubProbe() {
        int seen = 0;
        for (double value : tub) {
            seen += Double.isFinite(value) ? 1 : 0;
        }
        return seen > size / 2;
    }

    /** Whether all that the balance needs was measured in a step of ordinary running. */
    boolean isOrdinary(int k) {
        return !isStill[k]
                && !isReloading[k]
                && Double.isFinite(air[k])
                && Double.isFinite(room[k]);
    }

    static double firstOf(double[] values) {
        for (double value : values) {
            if (Double.isFinite(value)) {
                return value;
            }
        }
        return Double.NaN;
    }

    private static final class Mean {
        private double sum;
        private int count;

        void add(double value) {
            if (Double.isFinite(value)) {
                sum += value;
                count++;
            }
        }

        double mean(int least) {
            return count < least ? Double.NaN : sum / count;
        }
    }
}
