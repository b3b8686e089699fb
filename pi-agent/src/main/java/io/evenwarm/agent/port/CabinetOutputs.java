package io.evenwarm.agent.port;

import java.util.Optional;

/**
 * A cabinet's lines.
 *
 * @param heater energised: current may flow to the heater
 * @param cutOffRelay in series with the heater's relay; energised: closed. De-energised it stops a
 *     welded heater relay too
 * @param fan energised: the circulation fan runs
 * @param buzzer energised: it sounds
 * @param humidifier energised: it makes the air moister
 * @param vent energised: it lets moist air out
 */
public record CabinetOutputs(
        Output heater,
        Optional<Output> cutOffRelay,
        Optional<Output> fan,
        Optional<Output> buzzer,
        Optional<Output> humidifier,
        Optional<Output> vent) {

    /** A cabinet in which nothing acts on the moisture. */
    public CabinetOutputs(
            Output heater,
            Optional<Output> cutOffRelay,
            Optional<Output> fan,
            Optional<Output> buzzer) {
        this(heater, cutOffRelay, fan, buzzer, Optional.empty(), Optional.empty());
    }
}
