package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.util.Optional;

/** Keeps through restarts what guard has learned of a cabinet. Losing it costs time, not eggs. */
public interface LearnedStore {

    /** Keeps nothing: for whoever never starts again. */
    LearnedStore NONE =
            new LearnedStore() {
                @Override
                public Optional<Learned> load(CabinetName cabinet) {
                    return Optional.empty();
                }

                @Override
                public void save(CabinetName cabinet, Learned learned) {}

                @Override
                public void setAside(CabinetName cabinet, String why) {}
            };

    /**
     * What was last saved; empty when nothing was. What can't be read is set aside, as by {@link
     * #setAside}. Never throws.
     */
    Optional<Learned> load(CabinetName cabinet);

    /**
     * Saves durably.
     *
     * @throws IOException when it could not be saved
     */
    void save(CabinetName cabinet, Learned learned) throws IOException;

    /**
     * Puts what was kept out of the way, and says so in the log: learning begins anew. Never
     * throws.
     *
     * @param why in plain words
     */
    void setAside(CabinetName cabinet, String why);
}
