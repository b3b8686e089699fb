package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.Optional;

/**
 * The top is warmer than the bottom by more than air probes may differ, for as long as they may.
 * Where a place has several probes, their mean counts.
 */
final class FanStopped extends Watch {

    private final CabinetPlan plan;
    private final boolean[] isTop;
    private final boolean[] isBottom;

    FanStopped(CabinetPlan plan) {
        super(
                FindingCode.FAN_STOPPED,
                Optional.empty(),
                plan.guard().disagreeSeconds(),
                ProbesDisagree.OFF_DELAY_SECONDS);
        this.plan = plan;
        isTop = thoseAt(plan, ProbePlace.Kind.TOP);
        isBottom = thoseAt(plan, ProbePlace.Kind.BOTTOM);
    }

    private static boolean[] thoseAt(CabinetPlan plan, ProbePlace.Kind kind) {
        boolean[] those = new boolean[plan.probes().size()];
        for (int i = 0; i < those.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            those[i] = probe.sensor().isThermometer() && probe.place().kind() == kind;
        }
        return those;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.health().isLayeringLearned()) {
            // What is learned knows this cabinet better than one limit for all.
            return Presence.ABSENT;
        }
        double top = mean(now.state(), isTop);
        double bottom = mean(now.state(), isBottom);
        if (Double.isNaN(top) || Double.isNaN(bottom)) {
            return Presence.UNKNOWN;
        }
        return Presence.of(top - bottom > ProbesDisagree.limitKelvin(plan, now, isRaised));
    }

    /** NaN when none of those is good. */
    private static double mean(CabinetState state, boolean[] those) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < those.length; i++) {
            if (those[i] && state.isTrusted(i)) {
                sum += state.celsius(i);
                count++;
            }
        }
        return count == 0 ? Double.NaN : sum / count;
    }

    @Override
    Words words(Circumstances now) {
        double top = mean(now.state(), isTop);
        double bottom = mean(now.state(), isBottom);
        String evidence =
                Double.isNaN(top) || Double.isNaN(bottom)
                        ? "top or bottom is no longer measured"
                        : "top " + Texts.celsius(top) + ", bottom " + Texts.celsius(bottom);
        return new Words(
                evidence
                        + "; allowed "
                        + Texts.kelvin(ProbesDisagree.limitKelvin(plan, now, false)),
                plan.drivesFan()
                        ? "keeps the fan switched on; steers by the warmest probe, so that no shelf"
                                + " gets hot"
                        : "steers by the warmest probe, so that no shelf gets hot",
                "Go and listen: does the fan turn, is its grille clear, has it current? If it"
                        + " turns, check the top and bottom probes.");
    }
}
