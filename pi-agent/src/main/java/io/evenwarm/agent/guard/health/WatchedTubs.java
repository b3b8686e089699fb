package io.evenwarm.agent.guard.health;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;

/** The probes in a cabinet's tubs. */
final class WatchedTubs {

    private final int[] placeOf;
    private final BlockMeans blocks;
    private final TubHealth[] tubs;

    WatchedTubs(CabinetPlan plan) {
        int[] inTubs = WatchedProbes.inTubs(plan);
        placeOf = WatchedProbes.places(inTubs, plan.probes().size());
        blocks = new BlockMeans(inTubs);
        tubs = new TubHealth[inTubs.length];
        for (int i = 0; i < tubs.length; i++) {
            tubs[i] = new TubHealth();
        }
    }

    /** Takes a tick in; the arguments are those of {@link BlockMeans#take}. */
    void gather(CabinetState state, double heaterOnShare, double elapsedSeconds) {
        blocks.take(state, heaterOnShare, elapsedSeconds);
    }

    /** As {@link BlockMeans#restart}. */
    void restartBlock() {
        blocks.restart();
    }

    /**
     * Judges the block that is complete.
     *
     * @param airCelsius what the air's probes say
     * @param isQuiet whether the cabinet has recovered from the last opening
     * @param isHeaterObeying whether the heater does what it is told
     * @param loudestSquaredStep of the air's probes, as in {@link ScatterSense#take}
     */
    void judge(
            double airCelsius,
            boolean isQuiet,
            boolean isHeaterObeying,
            double loudestSquaredStep) {
        for (int i = 0; i < tubs.length; i++) {
            tubs[i].scatter()
                    .take(
                            blocks.meanSquaredStep(i),
                            blocks.samples(i),
                            isQuiet,
                            loudestSquaredStep);
            tubs[i].take(blocks.celsius(i), airCelsius, isQuiet && isHeaterObeying);
        }
    }

    /** What the air's probes say together has another meaning from here on. */
    void learnAnew() {
        for (TubHealth tub : tubs) {
            tub.learnAnew();
        }
    }

    /** Whether the plan's probe of this index is in a tub. */
    boolean has(int probe) {
        return placeOf[probe] >= 0;
    }

    /** The plan's probe of this index; only when {@link #has} it. */
    TubHealth of(int probe) {
        return tubs[placeOf[probe]];
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        for (int i = 0; i < tubs.length; i++) {
            tubs[i].learned(rows.of("tub-" + i));
        }
    }
}
