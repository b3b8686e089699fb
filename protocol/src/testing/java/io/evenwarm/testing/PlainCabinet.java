package io.evenwarm.testing;

/** The table of one simulated cabinet with two probes, for an agent's settings. */
public final class PlainCabinet {

    /** Named north, 31.5 °C. */
    public static final String NORTH =
            """
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "simulated"
              [[cabinet.probe]]
              name = "bottom"
              position = "bottom"
              driver = "simulated"
              [cabinet.heater]
              driver = "simulated"
            """;

    private PlainCabinet() {}
}
