package io.evenwarm.monitor.notice;

import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a notice says about one cabinet. Texts are for people and may hold any character.
 *
 * @param cabinet its name
 * @param what is wrong with it, as short as can be: "too cold"
 * @param since when that holds
 * @param top the air at the top, now; empty when nobody knows
 * @param middle as top
 * @param bottom as top
 * @param trendKelvinPerHour how fast it warms (above 0) or cools; finite
 * @param timeLeft until the eggs are harmed, a careful estimate; empty when there is no limit or no
 *     estimate
 * @param restsOn what that estimate rests on; empty when there is none or nobody knows
 * @param tubsAtStake names of the tubs in it
 * @param agentDid what the agent did by itself
 * @param doFirst what the person should do first
 * @param couldGoTo where the tubs could go
 */
public record CabinetFacts(
        String cabinet,
        String what,
        Instant since,
        Optional<Temperature> top,
        Optional<Temperature> middle,
        Optional<Temperature> bottom,
        OptionalDouble trendKelvinPerHour,
        Optional<Duration> timeLeft,
        String restsOn,
        List<String> tubsAtStake,
        List<String> agentDid,
        String doFirst,
        List<String> couldGoTo) {

    /** Where nobody says what the time left rests on. */
    public CabinetFacts(
            String cabinet,
            String what,
            Instant since,
            Optional<Temperature> top,
            Optional<Temperature> middle,
            Optional<Temperature> bottom,
            OptionalDouble trendKelvinPerHour,
            Optional<Duration> timeLeft,
            List<String> tubsAtStake,
            List<String> agentDid,
            String doFirst,
            List<String> couldGoTo) {
        this(
                cabinet,
                what,
                since,
                top,
                middle,
                bottom,
                trendKelvinPerHour,
                timeLeft,
                "",
                tubsAtStake,
                agentDid,
                doFirst,
                couldGoTo);
    }

    public CabinetFacts {
        if (cabinet.isBlank() || what.isBlank()) {
            throw new IllegalArgumentException(
                    "a cabinet's name and what is wrong must not be blank but were \""
                            + cabinet
                            + "\" and \""
                            + what
                            + "\"");
        }
        if (trendKelvinPerHour.isPresent() && !Double.isFinite(trendKelvinPerHour.getAsDouble())) {
            throw new IllegalArgumentException(
                    "a trend must be finite but was " + trendKelvinPerHour.getAsDouble());
        }
        if (timeLeft.isPresent() && timeLeft.get().isNegative()) {
            throw new IllegalArgumentException(
                    "time left must not be negative but was " + timeLeft.get());
        }
        tubsAtStake = List.copyOf(tubsAtStake);
        agentDid = List.copyOf(agentDid);
        couldGoTo = List.copyOf(couldGoTo);
    }
}
