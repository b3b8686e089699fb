package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.Tub;
import java.util.OptionalDouble;

/**
 * A tub and what is known of its shelf.
 *
 * @param aboveMeanKelvin by how much the shelf's air was above the mean of the cabinet's before an
 *     outage, K; empty where no probe has the shelf's name as its place
 */
public record TubPlace(Tub tub, OptionalDouble aboveMeanKelvin) {}
