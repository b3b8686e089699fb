package io.evenwarm.monitor.live;

import java.util.List;

/** What is known now. Any thread may ask; answers are immutable and cheap. */
public interface LiveView {

    /** Every cabinet heard of since the monitor's start, ordered by key, judged at this moment. */
    List<LiveCabinet> cabinets();

    /** Every agent of the settings. */
    List<AgentState> agents();
}
