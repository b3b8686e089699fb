package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a survey is made of.
 *
 * @param span to look at
 * @param temperatures points in the cabinet's air, at most {@value #POINTS_MAX}
 * @param humidities the same for humidity, none or more
 * @param setPointCelsius over time; empty where none is known
 * @param heaterOnFraction 0 to 1, over time; may be empty
 * @param ambientCelsius of the room, over time; may be empty
 * @param limitKelvin DIN 12880's limit deviation by default
 * @param humidityLimitPercent around the mean of all points; empty for no verdict
 * @param doorOpenedAt when the door was opened for 30 s on purpose, to see how long it takes to
 *     settle
 * @param wording of the words
 */
public record SurveyInput(
        TimeSpan span,
        List<SurveyPoint> temperatures,
        List<SurveyPoint> humidities,
        Curve setPointCelsius,
        Curve heaterOnFraction,
        Curve ambientCelsius,
        double limitKelvin,
        OptionalDouble humidityLimitPercent,
        Optional<Instant> doorOpenedAt,
        Wording wording) {

    /** DIN 12880 asks for 27 points above 50 l, 9 up to that (clause 7.6). */
    public static final int POINTS_MAX = 27;

    /** Of two points a gradient could be had, but not where in between it is. */
    public static final int POINTS_MIN = 3;

    /** DIN 12880:2007-05, table 1: −10 to 70 °C, incubators that don't shake. */
    public static final double DIN_12880_KELVIN = 0.5;

    public SurveyInput {
        temperatures = List.copyOf(temperatures);
        humidities = List.copyOf(humidities);
        if (temperatures.size() > POINTS_MAX || humidities.size() > POINTS_MAX) {
            throw new IllegalArgumentException(
                    "a survey has at most "
                            + POINTS_MAX
                            + " points but there were "
                            + Math.max(temperatures.size(), humidities.size())
                            + ": name those to take");
        }
        requireLimit("the limit", limitKelvin);
        humidityLimitPercent.ifPresent(limit -> requireLimit("the humidity's limit", limit));
        doorOpenedAt.ifPresent(
                at -> {
                    if (at.isBefore(span.from()) || !at.isBefore(span.to())) {
                        throw new IllegalArgumentException(
                                "the door must be opened within the span "
                                        + span.from()
                                        + " to "
                                        + span.to()
                                        + " but was at "
                                        + at);
                    }
                });
    }

    private static void requireLimit(String what, double limit) {
        if (!(limit > 0 && limit <= 100)) {
            throw new IllegalArgumentException(
                    what + " must be more than 0 and at most 100 but was " + limit);
        }
    }
}
