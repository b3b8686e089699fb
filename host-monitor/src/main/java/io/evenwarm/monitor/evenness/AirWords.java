package io.evenwarm.monitor.evenness;

import java.time.Instant;
import java.util.Locale;

/** What a cabinet's long record says, in words that stand in alarms, on pages and in the window. */
public final class AirWords {

    private final Wording wording;

    public AirWords(Wording wording) {
        this.wording = wording;
    }

    /** The verdict on the air flow in one sentence. */
    public String verdict(AirFlow flow) {
        if (flow.sinceMillis() == Long.MAX_VALUE) {
            return "No verdict: there is no stretch with readings at the top and at the bottom, a"
                    + " set point and the heater's share.";
        }
        return flow.state()
                .fold(
                        learning ->
                                "No verdict yet: the cabinet is being learned; "
                                        + learning.daysLeft()
                                        + (learning.daysLeft() == 1
                                                ? " quiet day is still needed."
                                                : " quiet days are still needed."),
                        steady ->
                                "STEADY: about "
                                        + percent(steady.flowShare())
                                        + " of the air moves that moved when the cabinet was"
                                        + " learned.",
                        weak -> "WEAKENING: " + evidence(weak) + ".",
                        stopped -> "STANDS STILL: " + evidence(stopped) + ".");
    }

    /** What was seen, with its figures. */
    public String evidence(FanState.Weak weak) {
        return "about "
                + percent(weak.flowShare())
                + " of the air moves that moved when the cabinet was learned; top and bottom are "
                + wording.difference(Measure.TEMPERATURE, weak.moreKelvin())
                + " further apart than the heat explains, since "
                + wording.day(Instant.ofEpochMilli(weak.sinceMillis()));
    }

    /** What was seen, with its figures. */
    public String evidence(FanState.Stopped stopped) {
        return "the air seems to stand still; top and bottom are "
                + wording.difference(Measure.TEMPERATURE, stopped.moreKelvin())
                + " further apart than the heat explains, since "
                + wording.time(Instant.ofEpochMilli(stopped.sinceMillis()));
    }

    /** What was seen of a probe, with its figures. */
    public String evidence(ProbeAstray astray) {
        String since = ", since " + wording.time(Instant.ofEpochMilli(astray.sinceMillis()));
        String allowed = wording.difference(Measure.TEMPERATURE, astray.allowedKelvin());
        return astray.other()
                .map(
                        other ->
                                astray.probe()
                                        + " and "
                                        + other
                                        + " are at one place and "
                                        + wording.difference(
                                                Measure.TEMPERATURE, Math.abs(astray.kelvin()))
                                        + " apart, more than the "
                                        + allowed
                                        + " by which both can be off"
                                        + since)
                .orElseGet(
                        () ->
                                astray.probe()
                                        + " reads "
                                        + wording.signed(Measure.TEMPERATURE, astray.kelvin())
                                        + " off its usual place among the others, more than the "
                                        + allowed
                                        + " by which probes may drift and days scatter"
                                        + since);
    }

    private static String percent(double share) {
        return String.format(Locale.ROOT, "%.0f %%", 100 * share);
    }
}
