package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.agent.port.KeptStores;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.port.Learned;
import io.evenwarm.agent.port.LearnedStore;
import io.evenwarm.agent.port.RelayCountStore;
import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.util.Optional;

/** What an agent keeps of one cabinet, kept for as long as the rehearsal lasts. */
final class MemoryNotes implements LatchStore {

    static final String NO_SPACE = "no space left on device";

    private Latch latch = new Latch.Clear();
    private Optional<Temperature> setPoint = Optional.empty();
    private long relayOperations;
    private Optional<Learned> learned = Optional.empty();
    private Optional<HeldDuty> heldDuty = Optional.empty();
    private boolean isFull;

    void setFull(boolean full) {
        isFull = full;
    }

    private void requireSpace() throws IOException {
        if (isFull) {
            throw new IOException(NO_SPACE);
        }
    }

    @Override
    public Latch load(CabinetName cabinet) {
        return latch;
    }

    @Override
    public void save(CabinetName cabinet, Latch saved) throws IOException {
        requireSpace();
        latch = saved;
    }

    /** All that is kept. */
    KeptStores stores() {
        return new KeptStores(
                this, new SetPoints(), new RelayCounts(), new LearnedNotes(), new HeldDuties());
    }

    private final class HeldDuties implements HeldDutyStore {
        @Override
        public Optional<HeldDuty> load(CabinetName cabinet) {
            return heldDuty;
        }

        @Override
        public void save(CabinetName cabinet, HeldDuty saved) throws IOException {
            requireSpace();
            heldDuty = Optional.of(saved);
        }
    }

    private final class LearnedNotes implements LearnedStore {
        @Override
        public Optional<Learned> load(CabinetName cabinet) {
            return learned;
        }

        @Override
        public void save(CabinetName cabinet, Learned saved) throws IOException {
            requireSpace();
            learned = Optional.of(saved);
        }

        @Override
        public void setAside(CabinetName cabinet, String why) {
            learned = Optional.empty();
        }
    }

    private final class RelayCounts implements RelayCountStore {
        @Override
        public long load(CabinetName cabinet) {
            return relayOperations;
        }

        @Override
        public void save(CabinetName cabinet, long operations) throws IOException {
            requireSpace();
            relayOperations = operations;
        }
    }

    private final class SetPoints implements SetPointStore {
        @Override
        public Optional<Temperature> load(CabinetName cabinet) {
            return setPoint;
        }

        @Override
        public void save(CabinetName cabinet, Temperature saved) throws IOException {
            requireSpace();
            setPoint = Optional.of(saved);
        }
    }
}
