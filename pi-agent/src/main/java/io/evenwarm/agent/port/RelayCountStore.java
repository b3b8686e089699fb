package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetName;
import java.io.IOException;

/** Keeps through restarts how often a cabinet's heater relay was switched on. */
public interface RelayCountStore {

    /** Keeps nothing: for whoever never starts again. */
    RelayCountStore NONE =
            new RelayCountStore() {
                @Override
                public long load(CabinetName cabinet) {
                    return 0;
                }

                @Override
                public void save(CabinetName cabinet, long operations) {}
            };

    /** The count last saved; 0 when none was, or when it can't be read. Never throws. */
    long load(CabinetName cabinet);

    /**
     * Saves durably.
     *
     * @throws IOException when it could not be saved
     */
    void save(CabinetName cabinet, long operations) throws IOException;
}
