package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.util.Optional;

/**
 * Keeps through restarts which duty last held a cabinet. Losing it costs some tenths of a kelvin
 * for half an hour.
 */
public interface HeldDutyStore {

    /** Keeps nothing: for whoever never starts again. */
    HeldDutyStore NONE =
            new HeldDutyStore() {
                @Override
                public Optional<HeldDuty> load(CabinetName cabinet) {
                    return Optional.empty();
                }

                @Override
                public void save(CabinetName cabinet, HeldDuty held) {}
            };

    /** What was last saved; empty when nothing was, or when it can't be read. Never throws. */
    Optional<HeldDuty> load(CabinetName cabinet);

    /**
     * Saves durably.
     *
     * @throws IOException when it could not be saved
     */
    void save(CabinetName cabinet, HeldDuty held) throws IOException;
}
