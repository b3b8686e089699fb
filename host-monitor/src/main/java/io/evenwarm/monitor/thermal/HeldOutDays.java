package io.evenwarm.monitor.thermal;

import java.util.OptionalDouble;

/** Fits to the first three quarters of a record and looks how well that foretells the last. */
final class HeldOutDays {

    private static final int DAYS_MIN = 4;

    private HeldOutDays() {}

    static ThermalFit.HeldOut of(
            ThermalRecord record, double fullHeatKelvin, OptionalDouble eggSeconds) {
        Steps all = new Steps(record);
        int days = all.size / Steps.PER_DAY;
        int fitted = days - days / 4;
        if (days < DAYS_MIN) {
            return new ThermalFit.HeldOut(0, Double.NaN, Double.NaN);
        }
        Steps first = new Steps(record.first(fitted * 86_400 / ThermalRecord.CELL_SECONDS));
        if (!Double.isFinite(Steps.firstOf(first.air) + Steps.firstOf(first.room))) {
            // Nothing was read in the days that the model would be fitted to.
            return new ThermalFit.HeldOut(0, Double.NaN, Double.NaN);
        }
        NetworkConstants constants = ThermalFitter.constantsOf(first, fullHeatKelvin, eggSeconds);
        double squares = 0;
        double worst = 0;
        int count = 0;
        int whole = 0;
        for (int day = fitted; day < days; day++) {
            Steps before = new Steps(record.first(day * 86_400 / ThermalRecord.CELL_SECONDS));
            double[] state = new StateFilter(before).run(constants).mean;
            Network fanOn = new Network(constants, true, Steps.STEP_SECONDS);
            Network still = new Network(constants, false, Steps.STEP_SECONDS);
            double room = state[StateFilter.ROOM];
            boolean isSeen = false;
            for (int k = day * Steps.PER_DAY; k < (day + 1) * Steps.PER_DAY; k++) {
                if (all.isReloading[k]) {
                    // From here on the eggs are others.
                    break;
                }
                room = Double.isFinite(all.room[k]) ? all.room[k] : room;
                double power = (all.heat[k - 1] + all.heat[k]) / 2 * constants.fullHeatKelvin();
                if (all.isStill[k]) {
                    still.advance(state, room, power);
                } else {
                    fanOn.advance(state, room, power + constants.fanKelvin());
                }
                if (Double.isFinite(all.air[k])) {
                    double off = state[Network.AIR] - all.air[k];
                    squares += off * off;
                    worst = Math.max(worst, Math.abs(off));
                    count++;
                    isSeen = true;
                }
            }
            whole += isSeen ? 1 : 0;
        }
        return count == 0
                ? new ThermalFit.HeldOut(0, Double.NaN, Double.NaN)
                : new ThermalFit.HeldOut(whole, Math.sqrt(squares / count), worst);
    }
}
