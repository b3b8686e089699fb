package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.util.function.Function;

/** What a person does about alarms. */
public sealed interface OperatorAction {

    /** Handles every case. */
    <R> R fold(Cases<R> cases);

    /** What to do in each case. */
    record Cases<R>(
            Function<Acknowledge, R> acknowledge,
            Function<AcknowledgeEvent, R> acknowledgeEvent,
            Function<Reset, R> reset,
            Function<ResetEvent, R> resetEvent,
            Function<Shelve, R> shelve,
            Function<Unshelve, R> unshelve,
            Function<TakeOutOfService, R> takeOutOfService,
            Function<ReturnToService, R> returnToService) {}

    /** Has seen one alarm. */
    record Acknowledge(AlarmKey key) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.acknowledge.apply(this);
        }
    }

    /** Has seen all alarms of one cause, those included that it suppresses. */
    record AcknowledgeEvent(EventId event) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.acknowledgeEvent.apply(this);
        }
    }

    /** Has looked, and ends one latch. */
    record Reset(AlarmKey key) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.reset.apply(this);
        }
    }

    /** Has looked, and ends the latches of one cause. */
    record ResetEvent(EventId event) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.resetEvent.apply(this);
        }
    }

    /**
     * Does not want to hear of an alarm for a while.
     *
     * @param length for how long; at most {@link AlarmTimes#shelfMax()}
     * @param why for the log
     */
    record Shelve(AlarmKey key, Duration length, String why) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.shelve.apply(this);
        }
    }

    record Unshelve(AlarmKey key) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.unshelve.apply(this);
        }
    }

    /**
     * The alarm means nothing until further notice, as during a repair.
     *
     * @param why for the log
     */
    record TakeOutOfService(AlarmKey key, String why) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.takeOutOfService.apply(this);
        }
    }

    record ReturnToService(AlarmKey key) implements OperatorAction {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.returnToService.apply(this);
        }
    }
}
