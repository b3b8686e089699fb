package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import java.util.Optional;

/**
 * A probe that can't be believed beside the others.
 *
 * @param other the one it disagrees with; empty where it left its usual place among all of them
 * @param sinceMillis since when, in milliseconds since the epoch
 * @param kelvin how far it is from there, with its sign
 * @param allowedKelvin how far it may be, by what is not certain of both sides
 */
public record ProbeAstray(
        ProbeName probe,
        Optional<ProbeName> other,
        long sinceMillis,
        double kelvin,
        double allowedKelvin) {}
