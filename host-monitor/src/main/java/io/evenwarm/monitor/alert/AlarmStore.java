package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.DeskState;
import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Keeps the alarm log, of which nothing is ever rewritten, and the desk's state beside it. */
public interface AlarmStore {

    /**
     * Adds to the log and takes the state in place of the one before: both, or neither when it
     * throws. A change that is in the log already is not added again.
     *
     * @param changes in their order
     * @param state that they led to
     */
    void keep(List<AlarmChange> changes, DeskState state) throws IOException;

    /**
     * Adds to the log, and leaves the state as it is.
     *
     * @param changes of another desk; their numbers must be ones that the state's desk never uses
     */
    void add(List<AlarmChange> changes) throws IOException;

    /** The state that was kept last; empty when there is none, or none that can be read. */
    Optional<DeskState> state() throws IOException;

    /**
     * The newest of the log, newest first.
     *
     * @param limit above 0
     */
    List<LoggedChange> newest(int limit) throws IOException;
}
