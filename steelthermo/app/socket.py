"""The line between page and kernel, told to send each message at once.

Jupyter's server leaves Nagle's algorithm on (RFC 896): a short message then waits until the page
has acknowledged the one before it, up to 40 ms, and a slider's answer is several short messages in
a row. Measured with tests/latency.py, lesson 08, one after the other on one machine: from a key to
the new picture 41 ms, without this 52 ms; a held key draws 40 of 40 steps, without this 26. Loaded
by Jupyter's server alone, as it needs it: by the start of the kit, or, on a hub, as an extension
that the wheel brings to etc/jupyter (app/hub).
"""

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptConnection(ZMQChannelsWebsocketConnection):
    """Jupyter's own connection to a kernel, without that wait. Choose it by
    ServerApp.kernel_websocket_connection_class.
    """

    def connect(self):
        """As Jupyter's; before it, TCP_NODELAY is set."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()


def _jupyter_server_extension_points():
    """As Jupyter's server asks for it."""
    return [{"module": __name__}]


def _load_jupyter_server_extension(server):
    """Have a server use PromptConnection, unless another class than the usual one was chosen, as
    where kernels run behind a gateway.
    """
    settings = server.web_app.settings
    if settings.get("kernel_websocket_connection_class") is ZMQChannelsWebsocketConnection:
        settings["kernel_websocket_connection_class"] = PromptConnection
