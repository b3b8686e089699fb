package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Command;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Set;

/** Lets what a scenario holds begin and end, each at its time. */
final class Timeline {

    /** From the mains' return to the agent's first tick. */
    static final double BOOT_SECONDS = 40;

    /** From then until the network has told the time. */
    private static final double CLOCK_SET_SECONDS = 120;

    private static final double SECONDS_PER_MINUTE = 60;

    private record Entry(double atSeconds, int order, Runnable work) {}

    private final RehearsedAgent agent;
    private final CabinetPlan plan;
    private final Weather weather;
    private double weatherUntil = Double.NEGATIVE_INFINITY;
    private final PriorityQueue<Entry> entries =
            new PriorityQueue<>(
                    Comparator.comparingDouble(Entry::atSeconds).thenComparingInt(Entry::order));
    private final List<PlantFault> inCabinet = new ArrayList<>();
    private final Set<Object> downFor = new HashSet<>();
    private int made;
    private int hangs;
    private int fullDisks;
    private double offSinceSeconds;
    private boolean mustBoot;

    Timeline(Scenario scenario, RehearsedAgent agent) {
        this.agent = agent;
        this.plan = agent.plan();
        this.weather = scenario.weather();
        for (double restart : scenario.restartsAtSeconds()) {
            // Each its own reason to be down.
            Object why = new Object();
            at(restart, () -> down(why));
            double until = restart + FaultKind.USUAL_RESTART_SECONDS;
            at(until, () -> up(why, until));
        }
        for (Everyday happening : scenario.everyday()) {
            at(happening.atSeconds(), () -> begin(happening));
            at(happening.untilSeconds(), () -> end(happening));
        }
        for (Scenario.TimedFault fault : scenario.faults()) {
            at(fault.atSeconds(), () -> begin(fault));
            if (fault.forSeconds().isPresent()) {
                at(fault.untilSeconds(), () -> end(fault));
            }
        }
    }

    private void at(double seconds, Runnable work) {
        entries.add(new Entry(seconds, made++, work));
    }

    /** Does what is due by now. */
    void reach(double seconds) {
        if (seconds >= weatherUntil) {
            weatherUntil = seconds + Weather.STEP_SECONDS;
            agent.cabinet().setWeather(weather.kelvin(seconds));
        }
        for (Entry next = entries.peek();
                next != null && next.atSeconds() <= seconds;
                next = entries.peek()) {
            entries.remove();
            next.work().run();
        }
    }

    private void begin(Everyday happening) {
        CabinetName cabinet = plan.name();
        if (happening.isAnnounced()) {
            int minutes = (int) Math.ceil(happening.forSeconds() / SECONDS_PER_MINUTE) + 1;
            agent.say(new Command.StartPlannedWork(cabinet, minutes));
        }
        put(new PlantFault.DoorOpen());
        if (happening.freshShare() > 0) {
            agent.cabinet().exchangeTubs(happening.freshShare());
        }
    }

    private void end(Everyday happening) {
        take(new PlantFault.DoorOpen());
        if (happening.isAnnounced()) {
            agent.say(new Command.EndPlannedWork(plan.name()));
        }
    }

    private void begin(Scenario.TimedFault fault) {
        Mishap what = fault.what();
        double now = fault.atSeconds();
        if (what instanceof Mishap.InCabinet in) {
            put(in.fault());
        } else if (what instanceof Mishap.MainsCut cut) {
            put(new PlantFault.MainsCut());
            if (!cut.hasBattery()) {
                mustBoot = true;
                offSinceSeconds = now;
                down(fault);
            }
        } else if (what instanceof Mishap.ClockStep step) {
            agent.stepClock(step.seconds());
        } else if (what instanceof Mishap.ControlHang) {
            agent.setHung(++hangs > 0);
        } else if (what instanceof Mishap.AgentCrash crash) {
            down(fault);
            double until = now + crash.restartSeconds();
            at(until, () -> up(fault, until));
        } else if (what instanceof Mishap.RelayChatter chatter) {
            startAgain(withWindow(chatter.windowSeconds()), fault, now);
        } else if (what instanceof Mishap.DiskFull) {
            agent.setDiskFull(++fullDisks > 0);
        } else if (!(what instanceof Mishap.LinkLost)) {
            // A rehearsal has no link, so that losing one is to change nothing.
            throw new AssertionError("no handling of " + what);
        }
    }

    private void end(Scenario.TimedFault fault) {
        Mishap what = fault.what();
        double now = fault.untilSeconds();
        if (what instanceof Mishap.InCabinet in) {
            take(in.fault());
        } else if (what instanceof Mishap.MainsCut cut) {
            take(new PlantFault.MainsCut());
            if (!cut.hasBattery()) {
                at(now + BOOT_SECONDS, () -> up(fault, now + BOOT_SECONDS));
            }
        } else if (what instanceof Mishap.ClockStep step) {
            agent.stepClock(-step.seconds());
        } else if (what instanceof Mishap.ControlHang) {
            agent.setHung(--hangs > 0);
        } else if (what instanceof Mishap.RelayChatter) {
            startAgain(plan, fault, now);
        } else if (what instanceof Mishap.DiskFull) {
            agent.setDiskFull(--fullDisks > 0);
        }
    }

    private void put(PlantFault fault) {
        inCabinet.add(fault);
        agent.cabinet().inject(fault);
    }

    private void take(PlantFault fault) {
        inCabinet.remove(fault);
        agent.cabinet().clear(fault);
        // Another of its kind may go on: a door that is open for two reasons stays open.
        for (PlantFault other : inCabinet) {
            if (other.isSameKindAs(fault)) {
                agent.cabinet().inject(other);
            }
        }
    }

    private void startAgain(CabinetPlan next, Scenario.TimedFault fault, double now) {
        agent.setPlan(next);
        down(fault);
        double until = now + FaultKind.USUAL_RESTART_SECONDS;
        at(until, () -> up(fault, until));
    }

    private void down(Object why) {
        downFor.add(why);
        agent.down();
    }

    /** Up again once nothing keeps it down. */
    private void up(Object why, double now) {
        downFor.remove(why);
        if (!downFor.isEmpty()) {
            return;
        }
        if (!mustBoot) {
            agent.up();
            return;
        }
        mustBoot = false;
        double off = now - offSinceSeconds;
        agent.boot(off);
        at(now + CLOCK_SET_SECONDS, () -> agent.clockSet(off));
    }

    private CabinetPlan withWindow(double windowSeconds) {
        return plan.withControl(plan.control().withWindow(windowSeconds, 1));
    }
}
