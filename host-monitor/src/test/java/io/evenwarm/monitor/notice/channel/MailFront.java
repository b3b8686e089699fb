package io.evenwarm.monitor.notice.channel;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocket;

/**
 * A mail server's front with real sockets and real STARTTLS (RFC 3207), which stands before a
 * server that has none: what it doesn't answer itself it passes on, line by line. It can refuse a
 * recipient a few times (greylisting), be slow, or offer no STARTTLS.
 */
public final class MailFront implements AutoCloseable {

    private static final int BACKLOG = 10;

    private final ServerSocket listening;
    private final int behindPort;
    private final SSLContext tls;
    private final ExecutorService threads = Executors.newCachedThreadPool();

    /** What clients said before TLS began. */
    final List<String> saidInTheClear = new CopyOnWriteArrayList<>();

    /** What is answered to the next RCPT commands, one each; then they are passed on. */
    final List<String> recipientAnswers = new CopyOnWriteArrayList<>();

    /** Answers the greeting by silence while above 0. */
    final AtomicInteger silentMillis = new AtomicInteger();

    /** How many have connected. */
    final AtomicInteger connections = new AtomicInteger();

    volatile boolean offersTls = true;

    /** Ends each connection once so many mails were taken by it; 0 for never. */
    volatile int mailsEach;

    public MailFront(int behindPort, SSLContext tls) throws IOException {
        this(0, behindPort, tls);
    }

    /**
     * @param port to listen at; 0 for any free one
     */
    MailFront(int port, int behindPort, SSLContext tls) throws IOException {
        this.behindPort = behindPort;
        this.tls = tls;
        listening = new ServerSocket();
        listening.setReuseAddress(true);
        listening.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), BACKLOG);
        Future<?> unused = threads.submit(this::accept);
    }

    public int port() {
        return listening.getLocalPort();
    }

    private void accept() {
        while (!listening.isClosed()) {
            try {
                Socket client = listening.accept();
                connections.incrementAndGet();
                Future<?> unused = threads.submit(() -> serve(client));
            } catch (IOException e) {
                return;
            }
        }
    }

    private void serve(Socket client) {
        try (client;
                Socket behind = new Socket(InetAddress.getLoopbackAddress(), behindPort)) {
            TimeUnit.MILLISECONDS.sleep(silentMillis.get());
            InputStream in = new BufferedInputStream(client.getInputStream());
            OutputStream out = client.getOutputStream();
            InputStream answers = new BufferedInputStream(behind.getInputStream());
            say(out, answer(answers));
            while (true) {
                String line = line(in);
                saidInTheClear.add(line);
                String verb = line.toUpperCase(Locale.ROOT);
                if (verb.startsWith("EHLO")) {
                    say(out, offersTls ? "250-front\r\n250 STARTTLS\r\n" : "250 front\r\n");
                } else if (verb.startsWith("STARTTLS") && offersTls) {
                    say(out, "220 go ahead\r\n");
                    serveByTls(client, behind, answers);
                    return;
                } else {
                    say(out, "530 Must issue a STARTTLS command first\r\n");
                }
            }
        } catch (IOException e) {
            // The client went: the next one comes.
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void serveByTls(Socket client, Socket behind, InputStream answers) throws IOException {
        try (SSLSocket secure =
                (SSLSocket) tls.getSocketFactory().createSocket(client, null, port(), true)) {
            secure.setUseClientMode(false);
            InputStream in = new BufferedInputStream(secure.getInputStream());
            OutputStream out = secure.getOutputStream();
            // A mail is passed on whole: lines by themselves each wait for the other side's delayed
            // acknowledgement (RFC 896, RFC 1122 s.4.2.3.2), 40 ms a mail that no mail server
            // takes.
            OutputStream to = new BufferedOutputStream(behind.getOutputStream());
            boolean isData = false;
            int mails = 0;
            while (true) {
                String line = line(in);
                if (!isData
                        && line.toUpperCase(Locale.ROOT).startsWith("RCPT")
                        && !recipientAnswers.isEmpty()) {
                    say(out, recipientAnswers.remove(0) + "\r\n");
                    continue;
                }
                to.write((line + "\r\n").getBytes(StandardCharsets.ISO_8859_1));
                if (isData) {
                    if (!line.equals(".")) {
                        continue;
                    }
                    isData = false;
                    mails++;
                }
                to.flush();
                String answer = answer(answers);
                isData = answer.startsWith("354");
                say(out, answer);
                if (mails > 0 && mails == mailsEach) {
                    return;
                }
            }
        }
    }

    /** One reply, all its lines (RFC 5321 s.4.2.1). */
    private static String answer(InputStream in) throws IOException {
        StringBuilder answer = new StringBuilder();
        String line;
        do {
            line = line(in);
            answer.append(line).append("\r\n");
        } while (line.length() > 3 && line.charAt(3) == '-');
        return answer.toString();
    }

    private static String line(InputStream in) throws IOException {
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        for (int octet = in.read(); octet != '\n'; octet = in.read()) {
            if (octet < 0) {
                throw new IOException("the other side went");
            }
            if (octet != '\r') {
                line.write(octet);
            }
        }
        return line.toString(StandardCharsets.ISO_8859_1);
    }

    private static void say(OutputStream out, String text) throws IOException {
        out.write(text.getBytes(StandardCharsets.ISO_8859_1));
        out.flush();
    }

    @Override
    public void close() throws IOException {
        listening.close();
        threads.shutdownNow();
    }
}
