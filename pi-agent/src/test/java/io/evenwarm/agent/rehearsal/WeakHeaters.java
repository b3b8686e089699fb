package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantFault;
import java.util.List;
import java.util.OptionalDouble;

/** Heaters that give half of their heat, in cabinets of the catalogue that are looked into. */
final class WeakHeaters {

    private WeakHeaters() {}

    /**
     * What was found in one run.
     *
     * @param weakFrom when it gets weak, s
     * @param weakSeconds for how long; empty: to the end
     */
    static Verdict verdict(
            long seed, double duration, double weakFrom, OptionalDouble weakSeconds) {
        return Rehearsal.run(
                new Scenario(
                        seed,
                        duration,
                        Catalogue.cabinet(seed),
                        List.of(
                                new Scenario.TimedFault(
                                        weakFrom, weakSeconds, new PlantFault.HeaterWeak(0.5))),
                        Catalogue.openings(seed, duration)));
    }
}
