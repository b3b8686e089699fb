package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.util.Optional;

/** Keeps a commanded set point through restarts. */
public interface SetPointStore {

    /**
     * The set point last commanded; empty when none was, or when it can't be read. Never throws.
     */
    Optional<Temperature> load(CabinetName cabinet);

    /**
     * Saves durably.
     *
     * @throws IOException when it could not be saved
     */
    void save(CabinetName cabinet, Temperature setPoint) throws IOException;
}
