package io.evenwarm.agent.testing;

import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** Keeps latches and set points in memory, and fails to when told. */
public final class MemoryStores {

    private final Map<CabinetName, Latch> latches = new ConcurrentHashMap<>();
    private final Map<CabinetName, Temperature> setPoints = new ConcurrentHashMap<>();
    private volatile boolean isDiskFull;

    public void diskFull(boolean full) {
        isDiskFull = full;
    }

    public LatchStore latches() {
        return new LatchStore() {
            @Override
            public Latch load(CabinetName cabinet) {
                return latches.getOrDefault(cabinet, new Latch.Clear());
            }

            @Override
            public void save(CabinetName cabinet, Latch latch) throws IOException {
                requireRoom();
                latches.put(cabinet, latch);
            }
        };
    }

    public SetPointStore setPoints() {
        return new SetPointStore() {
            @Override
            public Optional<Temperature> load(CabinetName cabinet) {
                return Optional.ofNullable(setPoints.get(cabinet));
            }

            @Override
            public void save(CabinetName cabinet, Temperature setPoint) throws IOException {
                requireRoom();
                setPoints.put(cabinet, setPoint);
            }
        };
    }

    private void requireRoom() throws IOException {
        if (isDiskFull) {
            throw new IOException("No space left on device");
        }
    }
}
