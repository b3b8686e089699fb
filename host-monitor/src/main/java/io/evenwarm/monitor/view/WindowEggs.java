package io.evenwarm.monitor.view;

import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import java.util.Optional;

/**
 * A cabinet's eggs by its thermal model, for the window. None of these waits; any thread may ask.
 */
public interface WindowEggs {

    /** Where no models are at work. */
    WindowEggs NONE =
            new WindowEggs() {
                @Override
                public Optional<WithoutHeat> withoutHeat(CabinetKey key) {
                    return Optional.empty();
                }

                @Override
                public Optional<Estimated> estimated(CabinetKey key) {
                    return Optional.empty();
                }
            };

    /** How long the eggs would have; empty where nothing is known of it. */
    Optional<WithoutHeat> withoutHeat(CabinetKey key);

    /** How warm the eggs are taken to have been, up to some minutes ago; empty without a model. */
    Optional<Estimated> estimated(CabinetKey key);

    /**
     * An estimate over time, °C; none of it was measured. All three have points at the same times.
     *
     * @param likely mean of all eggs
     * @param low the band's lower edge: of the coldest shelf
     * @param high the band's upper edge: of the warmest shelf
     */
    record Estimated(Curve likely, Curve low, Curve high) {}
}
