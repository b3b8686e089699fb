package io.evenwarm.message;

import java.util.List;
import java.util.Optional;

/**
 * What control has to say of itself, beside the duty that it asks for.
 *
 * @param relayOperations how often the heater's relay was switched on since it was fitted, as far
 *     as the agent knows
 * @param activity what it does other than holding the set point, as in "step test, 12 min"
 * @param tuning what the last test found; empty before the first
 * @param notes for a person, as in that the relay will not last
 */
public record ControlReport(
        long relayOperations,
        Optional<String> activity,
        Optional<Tuning> tuning,
        List<String> notes) {

    public ControlReport {
        notes = List.copyOf(notes);
    }

    /**
     * What a tuning test led to.
     *
     * @param method "step" or "relay"
     * @param failure why it found nothing; the numbers are not there then
     * @param rule the published rule that gave the constants
     * @param gainPerKelvin proposed gain
     * @param integralSeconds proposed integral time
     * @param derivativeSeconds proposed derivative time
     * @param windowSeconds proposed window of the heater's relay
     * @param minimumSeconds proposed shortest time on, and off, of that relay
     * @param words the model, and what the rule expects, for a person
     */
    public record Tuning(
            String method,
            Optional<String> failure,
            Optional<String> rule,
            Optional<Double> gainPerKelvin,
            Optional<Double> integralSeconds,
            Optional<Double> derivativeSeconds,
            Optional<Double> windowSeconds,
            Optional<Double> minimumSeconds,
            List<String> words) {

        public Tuning {
            words = List.copyOf(words);
        }
    }
}
