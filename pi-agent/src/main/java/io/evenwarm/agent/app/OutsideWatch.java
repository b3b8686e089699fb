package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.watchdog.ServiceManager;
import io.evenwarm.agent.driver.watchdog.WatchdogDevice;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.port.Watchdog;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.GuardState;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * All who watch this agent from outside: the service manager, and the watchdog device where one is
 * configured. Tells the service manager also what the cabinets are like, when that changes.
 *
 * <p>Threads: {@link #tickCompleted} and {@link #published} belong to the control thread; the
 * others to whoever starts and ends the agent.
 */
final class OutsideWatch implements Watchdog, SnapshotListener, AutoCloseable {

    private static final Logger LOG = System.getLogger(OutsideWatch.class.getName());

    private final ServiceManager manager;
    private final Optional<AgentConfiguration.WatchdogPlan> plan;
    private volatile Optional<WatchdogDevice> device = Optional.empty();

    // Control thread only.
    private final Map<CabinetName, Told> told = new LinkedHashMap<>();
    private boolean isTextOld;

    /** What was last told of a cabinet. */
    private record Told(GuardState guard, List<Finding> findings) {}

    OutsideWatch(ServiceManager manager, Optional<AgentConfiguration.WatchdogPlan> plan) {
        this.manager = manager;
        this.plan = plan;
    }

    /**
     * Arms the device. One that can't be had is told and left out: eggs are kept warm without it.
     */
    void start() {
        if (plan.isEmpty()) {
            return;
        }
        Path path = plan.get().device();
        try {
            device = Optional.of(WatchdogDevice.arm(path));
            LOG.log(
                    Level.WARNING,
                    "{0} is armed: this machine restarts itself when no control tick is completed"
                            + " for the device''s time{1}",
                    path,
                    plan.get().disarmAtCleanEnd()
                            ? ""
                            : ", and after every end of the agent, unless it is started again"
                                    + " in time");
        } catch (IOException e) {
            LOG.log(
                    Level.ERROR,
                    "the watchdog device {0} can''t be armed ({1}), so that a hung machine stays"
                            + " hung. Is it there, may this user write to it, and does the service"
                            + " manager leave it alone?",
                    path,
                    Failures.words(e));
        }
    }

    @Override
    public void tickCompleted() {
        if (isTextOld) {
            isTextOld = false;
            manager.status(text());
        }
        manager.tickCompleted();
        device.ifPresent(WatchdogDevice::tickCompleted);
    }

    @Override
    public void published(CabinetSnapshot snapshot) {
        Told before = told.get(snapshot.cabinet());
        if (before == null
                || before.guard() != snapshot.guard()
                || !isSame(before.findings(), snapshot.findings())) {
            told.put(snapshot.cabinet(), new Told(snapshot.guard(), snapshot.findings()));
            isTextOld = manager.isThere();
        }
    }

    private static boolean isSame(List<Finding> before, List<Finding> now) {
        if (before.size() != now.size()) {
            return false;
        }
        for (int i = 0; i < now.size(); i++) {
            if (!before.get(i).isSameTroubleAs(now.get(i))) {
                return false;
            }
        }
        return true;
    }

    /** For example {@code north: heat allowed; south: heat held back, probe-lost (top)}. */
    private String text() {
        return told.entrySet().stream()
                .map(
                        entry ->
                                entry.getKey()
                                        + ": "
                                        + entry.getValue().guard().words()
                                        + entry.getValue().findings().stream()
                                                .map(OutsideWatch::words)
                                                .collect(Collectors.joining()))
                .collect(Collectors.joining("; "));
    }

    private static String words(Finding finding) {
        return ", " + finding.code() + finding.probe().map(name -> " (" + name + ")").orElse("");
    }

    /** Tells the service manager that the end has begun. */
    void stopping() {
        manager.stopping();
    }

    /**
     * Lets go of all.
     *
     * @param isClean whether the agent was told to end and nothing failed
     */
    void end(boolean isClean) {
        Optional<WatchdogDevice> armed = device;
        device = Optional.empty();
        if (isClean && plan.map(AgentConfiguration.WatchdogPlan::disarmAtCleanEnd).orElse(false)) {
            armed.ifPresent(WatchdogDevice::disarm);
        }
        armed.ifPresent(WatchdogDevice::close);
        manager.close();
    }

    @Override
    public void close() {
        end(false);
    }
}
