package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.ControlPlan;
import java.util.List;
import java.util.Locale;

/**
 * Turns what a test found into a plan for control, by a published rule and what the relay allows.
 */
public final class Tuning {

    /**
     * The relay's own delay as a share of its window: a change of the duty waits for the next time
     * on, or for the end of this one.
     */
    private static final double WINDOW_SHARE = 0.5;

    /** Contacts are not asked for less than this, on or off, s. */
    private static final double SHORTEST_CONTACT_SECONDS = 4;

    private static final double DAY_SECONDS = 86_400;

    private Tuning() {}

    /**
     * A plan, and what led to it.
     *
     * @param rule that was used
     * @param finding of the test
     * @param closedLoopSeconds wanted time constant of the closed loop; 0 for rules without one
     * @param plan what to put into the configuration
     * @param words what was found and what the rule expects, for a person
     */
    public record Proposal(
            TuningRule rule,
            TestFinding finding,
            double closedLoopSeconds,
            ControlPlan plan,
            List<String> words) {
        public Proposal {
            words = List.copyOf(words);
        }
    }

    /**
     * The proposal for a cabinet: after a step test by improved SIMC, after a relay test by
     * Tyreus–Luyben.
     *
     * @param configured the plan so far; a solid-state relay's window and minimum times stay as
     *     they are
     */
    public static Proposal propose(TestFinding finding, ControlPlan configured) {
        ControlPlan current = withShortestWindow(configured);
        if (finding.model().isPresent()) {
            ProcessModel seen = finding.model().get();
            double dead = seen.deadTimeSeconds() + WINDOW_SHARE * current.windowSeconds();
            ProcessModel model =
                    new ProcessModel(seen.gainKelvin(), seen.timeConstantSeconds(), dead);
            TuningRule.Constants constants = TuningRule.simcPid(model, dead);
            return new Proposal(
                    TuningRule.SIMC_PID,
                    finding,
                    dead,
                    plan(current, constants),
                    List.of(
                            text("held with a duty of %.1f %%", 100 * finding.holdingDuty()),
                            text(
                                    "model: gain %.2f K for full duty, time constant %.0f s, dead time"
                                            + " %.0f s, and %.0f s of the relay's window",
                                    seen.gainKelvin(),
                                    seen.timeConstantSeconds(),
                                    seen.deadTimeSeconds(),
                                    dead - seen.deadTimeSeconds()),
                            text(
                                    "expected: closed-loop time constant %.0f s, peak of the"
                                            + " sensitivity Ms %.2f (below 2 is robust)",
                                    dead, Robustness.peakSensitivity(model, constants))));
        }
        UltimatePoint at = finding.ultimatePoint().orElseThrow();
        return new Proposal(
                TuningRule.TYREUS_LUYBEN_PI,
                finding,
                0,
                plan(current, TuningRule.tyreusLuybenPi(at)),
                List.of(
                        text("held with a duty of %.1f %%", 100 * finding.holdingDuty()),
                        text(
                                "it would swing on at a gain of %.3f /K with a period of %.0f s",
                                at.gainPerKelvin(), at.periodSeconds()),
                        "expected: no swinging; the gain is under a third of that"));
    }

    /**
     * The shortest window that a mechanical relay bears: its cycle moves the air least. It operates
     * at most 750 times a day then, and lasts a term by its data sheet.
     */
    private static ControlPlan withShortestWindow(ControlPlan plan) {
        double forALife = DAY_SECONDS * RelayWear.TERM_DAYS / plan.ratedOperations();
        double shortest =
                StrictMath.ceil(Math.max(ControlPlan.shortestMechanicalWindowSeconds(), forALife));
        return plan.relay() == ControlPlan.Relay.MECHANICAL && shortest < plan.windowSeconds()
                ? plan.withWindow(
                        shortest, Math.min(SHORTEST_CONTACT_SECONDS, plan.minimumOnSeconds()))
                : plan;
    }

    private static String text(String form, Object... values) {
        return String.format(Locale.ROOT, form, values);
    }

    private static ControlPlan plan(ControlPlan current, TuningRule.Constants constants) {
        return current.tuned(
                Math.min(constants.gainPerKelvin(), 10),
                constants.integralSeconds(),
                constants.derivativeSeconds());
    }
}
