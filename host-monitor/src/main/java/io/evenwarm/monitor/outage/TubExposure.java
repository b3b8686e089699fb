package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.Tub;
import java.util.Optional;

/**
 * What the eggs of one tub had.
 *
 * @param eggs for as long as the tub stood there; empty where nothing could be reconstructed
 * @param isShelfKnown whether a probe stands for its shelf; if not, the band reaches from the
 *     coldest eggs to the warmest
 */
public record TubExposure(Tub tub, Optional<EggBand> eggs, boolean isShelfKnown) {}
