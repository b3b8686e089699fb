package io.evenwarm.link;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Links over a serial line: a USB gadget port, a USB adapter, a UART, a pseudo-terminal.
 *
 * <p>8 data bits, no parity, 1 stop bit, no flow control. A serial line knows no other side: that
 * it ended shows only by silence, or when the port itself goes.
 */
public final class SerialLinks {

    /** How long the line may take nothing before a sender gives up. */
    static final Duration WRITE_MAX = Duration.ofSeconds(10);

    private static final int DATA_BITS = 8;
    private static final int READ_MILLIS = 1000;

    /** Linux, errno(3): permission denied. */
    private static final int EACCES = 13;

    private SerialLinks() {}

    /**
     * Opens a port, for this link alone, and opens it anew at each call: after a re-plug the same
     * path may mean another device.
     *
     * @param port a path such as {@code /dev/ttyGS0}, or a port's name such as {@code COM3}
     * @param baud symbols a second, above zero
     * @throws LinkException when the port is missing, busy, or can't be set so
     */
    public static Link open(String port, int baud) throws LinkException {
        return open(port, baud, WRITE_MAX);
    }

    /** As {@link #open(String, int)}. */
    public static Link open(Path port, int baud) throws LinkException {
        return open(port.toString(), baud, WRITE_MAX);
    }

    /**
     * The paths of the serial ports that this machine lists now; a port may be there and not be
     * listed, a pseudo-terminal for one.
     */
    public static List<String> ports() {
        return Arrays.stream(SerialPort.getCommPorts())
                .map(SerialPort::getSystemPortPath)
                .sorted()
                .toList();
    }

    static Link open(String port, int baud, Duration writeMax) throws LinkException {
        return FramedLink.over(octets(port, baud, writeMax), "the serial port " + port);
    }

    /** The open port itself. */
    static Octets octets(String port, int baud, Duration writeMax) throws LinkException {
        if (baud <= 0) {
            throw new LinkException("a serial port's baud rate must be above 0 but was " + baud);
        }
        SerialPort opened = find(port);
        if (!opened.setComPortParameters(
                        baud, DATA_BITS, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY)
                || !opened.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED)
                || !opened.setComPortTimeouts(
                        SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_MILLIS, 0)) {
            throw new LinkException(
                    "the serial port " + port + " can't be set to " + baud + " baud, 8N1");
        }
        // Only this boolean says whether it worked: the error number is set on success too.
        if (!opened.openPort()) {
            throw new LinkException(
                    opened.getLastErrorCode() == EACCES
                            ? "the serial port "
                                    + port
                                    + " may not be used by this user; on most systems the group"
                                    + " dialout gives the right"
                            : "the serial port "
                                    + port
                                    + " can't be opened: it is in use by another program or link,"
                                    + " or it is no serial port (error "
                                    + opened.getLastErrorCode()
                                    + ")");
        }
        return SerialOctets.over(opened, port, writeMax);
    }

    /**
     * A path is resolved here, because the library looks for a path that it does not find under
     * /dev, and might come upon another port of that name.
     */
    private static SerialPort find(String port) throws LinkException {
        try {
            if (!port.contains("/")) {
                return SerialPort.getCommPort(port);
            }
            Path path = Path.of(port);
            if (!Files.exists(path)) {
                throw missing(port, null);
            }
            return SerialPort.getCommPort(path.toRealPath().toString());
        } catch (SerialPortInvalidPortException e) {
            throw missing(port, e);
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            throw new LinkException(
                    "the serial port " + port + " can't be looked at: " + e.getMessage(), e);
        }
    }

    private static LinkException missing(String port, @Nullable Throwable cause) {
        String words =
                "there is no serial port "
                        + port
                        + "; check the cable, and the name in the configuration";
        return cause == null ? new LinkException(words) : new LinkException(words, cause);
    }
}
