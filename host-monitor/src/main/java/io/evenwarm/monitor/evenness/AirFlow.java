package io.evenwarm.monitor.evenness;

import java.util.List;

/**
 * The air flow of one cabinet over its history: feeds a {@link FanWatch}, and begins a new one when
 * other probes stand at the top or the bottom.
 *
 * <p>Readings are taken as they came: a probe's constant error is part of what is learned.
 *
 * <p>One thread; tables oldest first, each once.
 */
public final class AirFlow {

    private final SteadySet set = new SteadySet(place -> place.isTop() || place.isBottom());
    private final long fromMillis;
    private FanWatch watch = new FanWatch();
    private long sinceMillis = Long.MAX_VALUE;

    /**
     * @param fromMillis what was before is of no use, in milliseconds since the epoch
     */
    AirFlow(long fromMillis) {
        this.fromMillis = fromMillis;
    }

    /** Takes what came next. */
    FanState add(AirTable table) {
        set.beginTable();
        for (int slot = 0; slot < table.size(); slot++) {
            if (table.beginMillis(slot) >= fromMillis) {
                add(table, slot);
            }
        }
        return watch.state();
    }

    private void add(AirTable table, int slot) {
        double duty = table.duty(slot);
        double off = table.meanCelsius(slot) - table.setPointCelsius(slot);
        double top = mean(table, slot, true);
        double bottom = mean(table, slot, false);
        if (!Double.isFinite(top + bottom + off) || !(duty >= 0 && duty <= 1)) {
            return;
        }
        SteadySet.Answer answer = set.look(table, slot);
        if (answer == SteadySet.Answer.PASS_OVER) {
            return;
        }
        if (answer == SteadySet.Answer.BEGIN_ANEW) {
            watch = new FanWatch();
            sinceMillis = table.beginMillis(slot);
        }
        FanState unused =
                watch.add(new AirStretch(table.beginMillis(slot), top, bottom, duty, off));
    }

    private static double mean(AirTable table, int slot, boolean isTop) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < table.probes(); i++) {
            Position position = table.position(i);
            double celsius = table.celsius(i, slot);
            if ((isTop ? position.isTop() : position.isBottom()) && !Double.isNaN(celsius)) {
                sum += celsius;
                count++;
            }
        }
        return count == 0 ? Double.NaN : sum / count;
    }

    public FanState state() {
        return watch.state();
    }

    /** The days since it was learned, oldest first. */
    public List<FanDay> days() {
        return watch.days();
    }

    /** Since when it was learned, in milliseconds since the epoch; the greatest before that. */
    public long sinceMillis() {
        return sinceMillis;
    }
}
