package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetName;
import java.io.IOException;

/** Keeps the cut-off's latch through restarts and power cuts. */
public interface LatchStore {

    /**
     * The latch as last saved; anything unreadable comes back as {@link Latch.Tripped}. Never
     * throws.
     */
    Latch load(CabinetName cabinet);

    /**
     * Saves durably: on return the latch survives a power cut.
     *
     * @throws IOException when it could not be saved; the latch in force is then the one in memory
     */
    void save(CabinetName cabinet, Latch latch) throws IOException;
}
