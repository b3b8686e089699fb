package io.evenwarm.agent.loop;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.agent.port.KeptStores;
import io.evenwarm.agent.port.LearnedStore;
import io.evenwarm.agent.port.RelayCountStore;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.testing.FakeOutput;
import io.evenwarm.agent.testing.FakeProbe;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.concurrent.Executor;
import org.jspecify.annotations.Nullable;

/** One cabinet's loop on fake probes and lines; a tick a second. */
final class TestCabinet {

    static final long SECOND = 1_000_000_000L;

    final CabinetPlan plan;
    final List<FakeProbe> probes = new ArrayList<>();
    final FakeOutput heater = new FakeOutput("heater", true);
    final FakeOutput cutOffRelay = new FakeOutput("cut-off relay", true);
    final FakeOutput fan = new FakeOutput("fan", true);
    final FakeOutput buzzer = new FakeOutput("buzzer", true);
    final BootId boot = new BootId(new UUID(1, 2));
    final CabinetLoop loop;
    Optional<Boolean> isDoorShut = Optional.of(true);
    OptionalDouble fanTurns = OptionalDouble.of(1500);
    Optional<Boolean> isSilencePressed = Optional.of(false);
    Optional<Boolean> isResetPressed = Optional.of(false);
    long nowNanos;
    @Nullable CabinetSnapshot last;

    TestCabinet(CabinetPlan plan, MemoryStores stores) {
        this(plan, stores, Runnable::run, List.of());
    }

    /** One that an agent before this one held. */
    TestCabinet(CabinetPlan plan, MemoryStores stores, HeldDutyStore heldDuties) {
        this(plan, kept(stores, heldDuties), Runnable::run, List.of());
    }

    TestCabinet(
            CabinetPlan plan,
            MemoryStores stores,
            Executor saves,
            List<SnapshotListener> listeners) {
        this(plan, kept(stores, HeldDutyStore.NONE), saves, listeners);
    }

    private static KeptStores kept(MemoryStores stores, HeldDutyStore heldDuties) {
        return new KeptStores(
                stores.latches(),
                stores.setPoints(),
                RelayCountStore.NONE,
                LearnedStore.NONE,
                heldDuties);
    }

    private TestCabinet(
            CabinetPlan plan, KeptStores kept, Executor saves, List<SnapshotListener> listeners) {
        this.plan = plan;
        for (int i = 0; i < plan.probes().size(); i++) {
            probes.add(new FakeProbe());
        }
        loop =
                new CabinetLoop(
                        plan,
                        new CabinetDevices(List.copyOf(probes), outputs(), inputs()),
                        kept,
                        boot,
                        listeners,
                        saves);
    }

    private CabinetInputs inputs() {
        return new CabinetInputs(
                Optional.of(() -> isDoorShut),
                Optional.of(() -> fanTurns),
                Optional.of(() -> isSilencePressed),
                Optional.of(() -> isResetPressed));
    }

    CabinetOutputs outputs() {
        return new CabinetOutputs(
                heater, Optional.of(cutOffRelay), Optional.of(fan), Optional.of(buzzer));
    }

    /** All probes show this from now on, freshly sampled at each tick. */
    CabinetSnapshot tickAt(double... celsius) {
        nowNanos += SECOND;
        for (int i = 0; i < probes.size(); i++) {
            probes.get(i).celsius(celsius[celsius.length == 1 ? 0 : i], nowNanos);
        }
        return tickOnly();
    }

    /** A second passes and no probe is heard of. */
    CabinetSnapshot silentTick() {
        nowNanos += SECOND;
        return tickOnly();
    }

    CabinetSnapshot tickOnly() {
        CabinetSnapshot snapshot =
                loop.tick(new Moment(boot, nowNanos, Instant.EPOCH.plusNanos(nowNanos), true));
        last = snapshot;
        return snapshot;
    }

    CabinetSnapshot run(int seconds, double... celsius) {
        CabinetSnapshot snapshot = tickAt(celsius);
        for (int i = 1; i < seconds; i++) {
            snapshot = tickAt(celsius);
        }
        return snapshot;
    }

    /** Hands a command in; its outcome is in the list once it came. */
    List<CommandOutcome> submit(Command command) {
        List<CommandOutcome> outcomes = new ArrayList<>();
        loop.submit(command, outcomes::add);
        return outcomes;
    }

    boolean has(FindingCode code) {
        CabinetSnapshot snapshot = last;
        return snapshot != null
                && snapshot.findings().stream().anyMatch(finding -> finding.code().equals(code));
    }
}
